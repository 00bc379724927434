import type { Question } from '@/lib/analysis/plausibility';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { Draft } from '@/lib/bay-card/draft';
import type { JudgedOnDevice } from '@/lib/bay-card/judge-on-device';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import type { Problem } from '@/lib/result';

export interface Refusal {
  readonly status: number;
  readonly title: string;
  readonly problems: readonly Problem[];
  readonly questions: readonly Question[];
}

/** A reading kept on this device, until and a while after the server has it. */
export interface KeptReading {
  readonly id: string;
  readonly unitId: string;
  readonly signerName: string;
  /** Sent as it is, byte for byte the same each time. */
  readonly payload: ReadingPayload;
  /** What it was keyed in, so that a refused one can be mended. */
  readonly draft: Draft;
  /** What the device judged; null where it knew no history of the unit. */
  readonly judged: JudgedOnDevice | null;
  /** Day on which the desk was last heard, ISO 8601. */
  readonly heardOn: string | null;
  /** Picture of the line, sent once the reading is on record; absent when sent, or never taken. */
  readonly photo?: Blob;
  readonly state: 'waiting' | 'refused' | 'on record';
  readonly refusal: Refusal | null;
  readonly answer: {
    readonly entry: number;
    readonly at: string;
    readonly assessment: UnitAssessment;
  } | null;
}
