import type { WearPoint } from '@/lib/analysis/wear';

/** What the fleet as a whole says about one segment before it is read. Plain JSON; psi, the method's working unit. */
export interface FleetPrior {
  /** Segments learnt from; 0 is the default. */
  readonly segments: number;
  readonly startLevel: number;
  readonly startDeviation: number;
  readonly noise: number;
  readonly wearNoise: number;
  readonly errorShare: number;
  readonly errorSpread: number;
  readonly onset: readonly number[];
  readonly bend: readonly number[];
  readonly stepShare: number;
  readonly stepSize: readonly number[];
}

export declare const defaultFleetPrior: FleetPrior;
export declare function learnFleetPrior(segments: readonly (readonly WearPoint[])[]): FleetPrior;
