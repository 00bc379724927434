import type { TraceMarks } from '@/lib/bay-card/trace-marks';
import type { TraceColumns } from '@/lib/intake/trace-csv';

/** A gauge's file as picked, until its figures are taken: a killed page opens on it again. */
export interface KeptTrace {
  readonly draftId: string;
  readonly name: string;
  readonly text: string;
  /** Null while the person has not said which column is which. */
  readonly columns: TraceColumns | null;
  readonly marks: TraceMarks;
}

/** Columns by the heading they were chosen for: mapped once, remembered on the device. */
export type KnownColumns = Readonly<Record<string, TraceColumns>>;
