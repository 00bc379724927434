import type { BeltState, LineState, PedalState } from '@/lib/analysis/reading';
import type { Concern } from '@/lib/bay-card/concern';
import type { Watch } from '@/lib/bay-card/watch';
import type { couldNotReasons } from '@/lib/intake/could-not-reasons';
import type { TraceOfReading } from '@/lib/intake/reading-payload';
import type { DistanceUnit, PressureUnit } from '@/lib/measure';

/** The bay card's screens after a unit is picked, in the order of work. */
export const orderedSteps = [
  'cautions',
  'line',
  'gauge',
  'idle',
  'presses',
  'lowest',
  'pedal',
  'hold',
  'odometer',
  'held',
  'refit',
  'check',
] as const;
/** Reached only when asked for: a gauge's trace, raised speed, seconds keyed by hand, the belt. */
export const sideSteps = ['trace', 'raised', 'recovery', 'belt'] as const;
export type Step = (typeof orderedSteps)[number] | (typeof sideSteps)[number];

export const entryFields = [
  'idle',
  'raised',
  'lowest',
  'recovery',
  'heldAfter',
  'odometer',
] as const;
export type EntryField = (typeof entryFields)[number];
export type CouldNotReason = (typeof couldNotReasons)[number];
export type CouldNotField =
  | 'line'
  | 'idle'
  | 'recovery'
  | 'lowest'
  | 'pedal'
  | 'holdLoss'
  | 'odometer';

/** A reading under way, as plain JSON: kept on the device at every step, so that nothing is lost. */
export interface Draft {
  readonly version: 1;
  /** Becomes the reading's id. */
  readonly id: string;
  readonly unitId: string;
  readonly signedBy: string;
  readonly signerName: string;
  readonly isProof: boolean;
  readonly gaugeId: string | null;
  readonly pressureUnit: PressureUnit;
  readonly distanceUnit: DistanceUnit;
  readonly step: Step;
  readonly areCautionsTaken: boolean;
  readonly isGaugeFitted: boolean;
  /** Digits as keyed; the decimal point before the last one is implied, save for the odometer. */
  readonly entries: Readonly<Record<EntryField, string>>;
  /** Entries that a trace filled, with the fuller figure that it gave; keyed again, they are dropped. */
  readonly traced?: Readonly<Partial<Record<EntryField, string>>>;
  readonly trace?: TraceOfReading;
  readonly isRecoveryKeyed: boolean;
  readonly line: LineState | null;
  readonly pedal: PedalState | null;
  readonly belt: BeltState | null;
  readonly holdTimeS: number | null;
  readonly watch: Watch | null;
  readonly isClipTugged: boolean;
  readonly couldNot: Readonly<Partial<Record<CouldNotField, CouldNotReason>>>;
  /** The measurement whose reason is being chosen. */
  readonly askingWhyNot: CouldNotField | null;
  readonly asking: Concern | null;
  readonly confirmed: readonly string[];
}

export type NewDraft = Pick<
  Draft,
  | 'id'
  | 'unitId'
  | 'signedBy'
  | 'signerName'
  | 'isProof'
  | 'gaugeId'
  | 'pressureUnit'
  | 'distanceUnit'
>;

export const newDraft = (about: NewDraft): Draft => ({
  version: 1,
  ...about,
  step: 'cautions',
  areCautionsTaken: false,
  isGaugeFitted: false,
  entries: { idle: '', raised: '', lowest: '', recovery: '', heldAfter: '', odometer: '' },
  isRecoveryKeyed: false,
  line: null,
  pedal: null,
  belt: null,
  holdTimeS: null,
  watch: null,
  isClipTugged: false,
  couldNot: {},
  askingWhyNot: null,
  asking: null,
  confirmed: [],
});
