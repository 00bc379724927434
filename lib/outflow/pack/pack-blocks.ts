import type { DistanceUnit, PressureUnit } from '@/lib/measure';

export interface PackColumn {
  readonly title: string;
  /** Share of the width. */
  readonly weight: number;
  readonly isNumber?: boolean;
  /** Digests and hashes: a narrow face of equal widths. */
  readonly isFixed?: boolean;
}

/** A pack is a list of these, whatever paper or file it goes to. */
export type PackBlock =
  | { readonly is: 'heading'; readonly text: string }
  | { readonly is: 'text'; readonly text: string }
  | { readonly is: 'alarm'; readonly text: string }
  | {
      readonly is: 'table';
      readonly name: string;
      readonly columns: readonly PackColumn[];
      readonly rows: readonly (readonly string[])[];
    };

export interface PackReader {
  /** Name and badge of whoever had it made. */
  readonly name: string;
  readonly pressure: PressureUnit;
  readonly distance: DistanceUnit;
}

/** `2026-01-05 15:00:00Z` */
export const utc = (instant: Date | null): string =>
  instant === null ? '' : `${instant.toISOString().slice(0, 19).replace('T', ' ')}Z`;
