import type { LineState, Part } from '@/lib/analysis/reading';
import type { BuildDate } from '@/lib/bulletins/build-date';
import type { Possible } from '@/lib/bulletins/possible';
import type { DayNumber, Kilometres, Kilopascals, Seconds } from '@/lib/measure';

/** What the fleet has on record about a unit, before anything is concluded from it. */
export interface BulletinFacts {
  readonly unit: string;
  readonly vin: string | null;
  /** The unit was built for a market whose law asks for the check digit. */
  readonly isCheckDigitRequired: boolean;
  readonly gvwrKg: number | null;
  readonly make: string | null;
  readonly model: string | null;
  /** As the label or the registration tells it; the VIN's own is kept apart. */
  readonly modelYear: number | null;
  readonly engine: string | null;
  /** As the maker's label tells it. */
  readonly built: BuildDate | null;
  /** Parts fitted at present; a part left out is not on record. */
  readonly fitted: readonly {
    readonly part: Part;
    readonly revision: string | null;
    readonly dateCode: string | null;
  }[];
  readonly odometer: { readonly value: Kilometres; readonly readOn: DayNumber } | null;
  /** The newest sound reading, as read. */
  readonly newest: {
    readonly readOn: DayNumber;
    readonly line: LineState;
    readonly recovery: Seconds | null;
    readonly idle: Kilopascals | null;
    readonly lowest: Kilopascals | null;
  } | null;
}

/** A unit of which nothing is known. */
export const nothingOnRecord: BulletinFacts = {
  unit: '',
  vin: null,
  isCheckDigitRequired: true,
  gvwrKg: null,
  make: null,
  model: null,
  modelYear: null,
  engine: null,
  built: null,
  fitted: [],
  odometer: null,
  newest: null,
};

export const buildFactNames = [
  'make',
  'model',
  'model year',
  'engine',
  'plant',
  'VIN sequence',
  'build date',
] as const;
/** Settled when the unit left the plant. */
export type BuildFactName = (typeof buildFactNames)[number];

export type ReadingFactName = 'line' | 'recovery' | 'idle vacuum' | 'lowest';

/** A date code is text to be listed, and a week to be put in order where it is one. */
export type PartFactName = `${Part} ${'revision' | 'date code' | 'date code week'}`;
export type FactName = BuildFactName | ReadingFactName | 'odometer' | PartFactName;

export type FactReader = (facts: BulletinFacts) => Possible;

export const isBuildFact = (fact: FactName): fact is BuildFactName =>
  (buildFactNames as readonly string[]).includes(fact);

/** Names are compared without regard to capitals or to space around them. */
export const foldName = (text: string): string => text.trim().toUpperCase();

/** Weeks in order, from a four-digit code of year and week, or null: `1931` follows `1930`. */
export function weekOfDateCode(code: string): number | null {
  const match = /^(\d{2})(0[1-9]|[1-4]\d|5[0-3])$/.exec(code.trim());
  return match ? Number(match[1]) * 53 + Number(match[2]) - 1 : null;
}
