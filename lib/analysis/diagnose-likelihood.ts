import type { DiagnosisInput } from '@/lib/analysis/diagnose';
import { type Signature, signatures } from '@/lib/analysis/diagnose-signatures';
import { type Kilopascals, type Seconds, toKilopascals } from '@/lib/measure';

/** Measurements that a cause is judged by. */
export const features = ['idle', 'lowest', 'recovery', 'hold', 'raised', 'oil'] as const;
export type Feature = (typeof features)[number];
export type SignedCause = Signature['cause'];

export interface CauseLikelihood {
  readonly posterior: Readonly<Record<SignedCause, number>>;
  /** Of each measurement made: log likelihood under a cause, over the severities that fit the visit. */
  readonly byFeature: ReadonlyMap<Feature, Readonly<Record<SignedCause, number>>>;
  /** Largest deviation from the best signature, in standard deviations. */
  readonly worstFit: number;
}

export const signedCauses = [
  'pump',
  'leak',
  'check valve',
  'restricted line',
  'slipping belt',
  'none shown',
] as const satisfies readonly SignedCause[];

/** Degrees of freedom of Student's t: one mis-keyed value cannot outvote the others. */
const tails = 5;
const mostSquare = 1e12;
/** One reading against a baseline of three or four: sigma sqrt(1 + 1.57 / 4). */
const againstBaseline = Math.sqrt(1 + 1.57 / 4);
const recoveryDeviation = 0.15;
/** Beyond this ratio a technician stops waiting, and slower is not told from slow. */
const mostRecoveryRatio = 3.3;
/** Wide: sound pumps gain anything from nothing to half a psi at raised speed. */
const raisedDeviation = toKilopascals(0.4, 'psi');
const holdDeviation = toKilopascals(0.1, 'psi');
/** Sound boosters differ in how well they hold: by this much in 60 s. */
const holdSpread = toKilopascals(0.03, 'psi');
const holdShare = 0.15;
/** Own assumption: how often a visit finds oil with a worn pump, and with anything else. */
const oilWithPump = 0.35;
const oilOtherwise = 0.05;
const defaultNoise = toKilopascals(0.3, 'psi');

/** Fall in a hold of another length: straight lines through 0, 60 and 300 s. */
export function lossAfter(signature: Signature, holdTime: Seconds): Kilopascals {
  if (holdTime <= 60) return (signature.loss60 * holdTime) / 60;
  const share = Math.min(1, (holdTime - 60) / 240);
  return signature.loss60 + share * (signature.loss300 - signature.loss60);
}

interface Measurement {
  readonly feature: Feature;
  readonly value: number;
  /** What a signature makes of it, and how far single visits stray from that. */
  readonly expected: (signature: Signature) => number;
  readonly deviation: (expected: number) => number;
}

const logRatio = (ratio: number) => Math.log(Math.min(ratio, mostRecoveryRatio));
const logRecovery = new Map(signatures.map((s) => [s, logRatio(s.recoveryRatio)]));

function measurementsOf(input: DiagnosisInput): Measurement[] {
  const sigma = (input.noise ?? defaultNoise) * againstBaseline;
  const { idleDrop, lowestDrop, recovery, recoveryBaseline, holdLoss, holdTime } = input;
  const made: Measurement[] = [];
  const add = (
    feature: Feature,
    value: number,
    deviation: number,
    expected: Measurement['expected'],
  ) => made.push({ feature, value, expected, deviation: () => deviation });

  if (idleDrop !== null) add('idle', idleDrop, sigma, (s) => s.idleDrop);
  if (lowestDrop !== null) add('lowest', lowestDrop, sigma, (s) => s.lowestDrop);
  if (recovery !== null && recovery > 0 && recoveryBaseline !== null && recoveryBaseline > 0) {
    const value = logRatio(recovery / recoveryBaseline);
    add('recovery', value, recoveryDeviation, (s) => logRecovery.get(s)!);
  }
  if (holdLoss !== null && holdTime !== null && holdTime > 0) {
    const most = input.idle ?? Number.POSITIVE_INFINITY;
    const spread = (holdSpread * holdTime) / 60;
    made.push({
      feature: 'hold',
      value: holdLoss,
      expected: (s) => Math.min(lossAfter(s, holdTime), most),
      deviation: (expected) => Math.hypot(holdDeviation, spread, holdShare * expected),
    });
  }
  if (input.raisedDifference !== null)
    add('raised', input.raisedDifference, raisedDeviation, (s) => s.raisedDifference);
  return made;
}

/** Student's t without its constant; so cut off that a product of five cannot vanish. */
function density(z: number, deviation: number): number {
  const share = 1 / (1 + Math.min(z * z, mostSquare) / tails);
  return (share * share * share) / deviation;
}

/**
 * Posterior of the causes: naive Bayes over a library of signatures, every cause equally likely before
 * the visit, its severities equally likely within it, measurements independent given both with Student
 * t errors (5 degrees of freedom). What was not measured is left out.
 */
export function causeLikelihood(input: DiagnosisInput): CauseLikelihood {
  const measurements = measurementsOf(input);
  const hasOil = input.line === 'wet' || input.line === 'film';
  const oilShare = (cause: SignedCause) => {
    if (input.line === 'not seen') return 1;
    const share = cause === 'pump' ? oilWithPump : oilOtherwise;
    return hasOil ? share : 1 - share;
  };
  const posterior = eachCause(() => 0);
  const weighted = measurements.map(() => eachCause(() => 0));
  const densities = measurements.map(() => 0);
  let total = 0;
  let highest = 0;
  let worstFit = 0;
  for (const signature of signatures) {
    const { cause } = signature;
    let weight = oilShare(cause) / counts[cause];
    let worst = 0;
    for (const [index, { value, expected, deviation }] of measurements.entries()) {
      const mean = expected(signature);
      const spread = deviation(mean);
      const z = (value - mean) / spread;
      densities[index] = density(z, spread);
      weight *= densities[index]!;
      worst = Math.max(worst, Math.abs(z));
    }
    for (let index = 0; index < measurements.length; index++)
      weighted[index]![cause] += weight * densities[index]!;
    posterior[cause] += weight;
    total += weight;
    if (weight > highest) {
      highest = weight;
      worstFit = worst;
    }
  }

  const byFeature = new Map<Feature, Record<SignedCause, number>>();
  for (const [index, { feature }] of measurements.entries())
    byFeature.set(
      feature,
      eachCause((cause) => Math.log(weighted[index]![cause] / posterior[cause])),
    );
  if (input.line !== 'not seen')
    byFeature.set(
      'oil',
      eachCause((cause) => Math.log(oilShare(cause))),
    );
  return { posterior: eachCause((cause) => posterior[cause] / total), byFeature, worstFit };
}

function eachCause(value: (cause: SignedCause) => number): Record<SignedCause, number> {
  return {
    pump: value('pump'),
    leak: value('leak'),
    'check valve': value('check valve'),
    'restricted line': value('restricted line'),
    'slipping belt': value('slipping belt'),
    'none shown': value('none shown'),
  };
}

const counts = eachCause((cause) => signatures.filter((s) => s.cause === cause).length);
