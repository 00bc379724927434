import { type Part, parts } from '@/lib/analysis/reading';
import { failure, type Problem, type Result, success } from '@/lib/result';

/** A part that a bulletin asks for, in any of some revisions; in whichever where none is named. */
export interface RequiredPart {
  readonly part: Part;
  readonly revisions: readonly string[];
}

/** A part as it is fitted; one without a revision on record has null. */
export interface FittedPart {
  readonly part: Part;
  readonly revision: string | null;
}

const fold = (revision: string): string => revision.trim().toUpperCase();

const meets = ({ revisions }: RequiredPart, revision: string | null): boolean =>
  revisions.length === 0 || (revision !== null && revisions.map(fold).includes(fold(revision)));

/** What of the parts asked for is not fitted; an unknown revision meets no named one. */
export const partsLacking = (
  required: readonly RequiredPart[],
  fitted: readonly FittedPart[],
): RequiredPart[] =>
  required.filter(
    (asked) => !meets(asked, fitted.find(({ part }) => part === asked.part)?.revision ?? null),
  );

/**
 * Parts and revisions as people write them, and as `requiredPartsOf` reads them back.
 * `[{ part: 'pump', revisions: ['C', 'D'] }, { part: 'line', revisions: [] }]` is `pump C or D; line`.
 */
export const requiredPartsInWords = (required: readonly RequiredPart[]): string =>
  required.map(({ part, revisions }) => `${part} ${revisions.join(' or ')}`.trim()).join('; ');

/** Revisions fitted of the parts asked for; each with its part's name where there are several. */
export function fittedInWords(
  required: readonly RequiredPart[],
  fitted: readonly FittedPart[],
): string | null {
  const told = required.flatMap(({ part }) => {
    const revision = fitted.find((one) => one.part === part)?.revision;
    return revision == null ? [] : [required.length > 1 ? `${part} ${revision}` : revision];
  });
  return told.length > 0 ? told.join(', ') : null;
}

const longestRevision = 20;
const notPlain = /[\p{Cc}\p{Cs}\u202A-\u202E\u2066-\u2069]/u;

const problem = (value: string, message: string, mend: string): Problem => ({
  field: 'requiredParts',
  value: value.slice(0, 40),
  message,
  mend,
});

function requiredPartOf(text: string): Result<RequiredPart, Problem> {
  const words = text.toLowerCase();
  const part = parts.find((one) => words === one || words.startsWith(`${one} `));
  if (!part) {
    const mend = `Begin with ${parts.join(', ')}; then its revisions.`;
    return failure(problem(text, 'It names no part known here.', mend));
  }
  const rest = text.slice(part.length).trim();
  const revisions = rest === '' ? [] : rest.split(/,| or /i).map((one) => one.trim());
  const isPlain = revisions.every(
    (one) => one !== '' && one.length <= longestRevision && !notPlain.test(one),
  );
  if (isPlain) return success({ part, revisions });
  const mend = `Write revisions of at most ${longestRevision} characters, with "or" between.`;
  return failure(problem(text, `The revisions of the ${part} cannot be read.`, mend));
}

/**
 * The parts that a bulletin asks for, of a text as it is keyed or stands in a cell: parts with
 * semicolons between, each followed by the revisions that will do.
 *
 * Thin data: an empty text asks for none.
 * Example: `pump C or D; check valve` asks for a pump in revision C or D, and for any check valve.
 */
export function requiredPartsOf(text: string): Result<RequiredPart[], Problem> {
  const required: RequiredPart[] = [];
  for (const piece of text.split(';')) {
    if (piece.trim() === '') continue;
    const read = requiredPartOf(piece.trim());
    if (!read.ok) return read;
    if (required.some(({ part }) => part === read.value.part)) {
      const mend = 'Write its revisions one after the other.';
      return failure(problem(piece.trim(), `The ${read.value.part} stands twice.`, mend));
    }
    required.push(read.value);
  }
  return success(required);
}
