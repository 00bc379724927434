import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { Refusal } from './kept-reading';

/** Statuses by which the server says that this payload will never do. */
export const refusals = new Set([400, 403, 404, 409, 413, 422]);

export interface Recorded {
  readonly readingId: string;
  readonly entry: number;
  readonly verdict: { readonly assessment: UnitAssessment };
}

/** Only the server knows the id it was sent: a page in its place, as a captive portal gives, does not. */
export const isRecorded = (body: Partial<Recorded>, id: string): body is Recorded =>
  body.readingId === id && typeof body.entry === 'number' && body.verdict?.assessment !== undefined;

export const isRefusal = (body: Partial<Refusal>): body is Refusal =>
  typeof body.title === 'string' && Array.isArray(body.problems);
