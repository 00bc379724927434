import { failure, type Problem, type Result, success } from '@/lib/result';

/** Five mebibytes: a notice of fifty scanned pages. Own choice. */
export const mostAttachmentBytes = 5 * 1024 * 1024;
const longestName = 120;

export interface AttachedPdf {
  /** Letters, digits, space, point, hyphen and underscore; ends in `.pdf`. */
  readonly name: string;
  readonly content: Uint8Array;
}

const startsWith = (content: Uint8Array, text: string): boolean =>
  [...text].every((character, k) => content[k] === character.charCodeAt(0));

/** The end mark stands within the last kibibyte; an upload that broke off has none. */
const hasEnd = (content: Uint8Array): boolean =>
  String.fromCharCode(...content.subarray(-1024)).includes('%%EOF');

/** A name that may stand in a header and on a disk. */
const plainName = (name: string): string => {
  const base = name
    .split(/[/\\]/)
    .at(-1)
    ?.replace(/\.pdf$/i, '')
    .replaceAll(/[^\p{L}\p{N} ._-]/gu, '_')
    .slice(0, longestName)
    .trim();
  return `${base || 'notice'}.pdf`;
};

export const tooLarge: Problem = {
  field: 'attachment',
  message: 'The file is over 5 MB.',
  mend: 'Save it in a smaller size, or only the pages that count.',
};

/**
 * A file as somebody uploaded it: a PDF by what it holds, whatever it is called. Empty, too large, cut
 * off or of another kind is refused with what to do.
 *
 * Source: ISO 32000-1 7.5.2 and 7.5.5 for the first and the last line, from memory.
 * Example: bytes of `%PDF-1.7 … %%EOF` named `..\SB-14?.PDF` are accepted as `SB-14_.pdf`.
 */
export function attachedPdf(name: string, content: Uint8Array): Result<AttachedPdf, Problem> {
  const refuse = (message: string, mend: string) =>
    failure({ field: 'attachment', value: plainName(name), message, mend });
  if (content.length === 0) return refuse('The file is empty.', 'Choose the notice again.');
  if (content.length > mostAttachmentBytes) {
    return refuse(tooLarge.message, tooLarge.mend);
  }
  if (!startsWith(content, '%PDF-')) {
    return refuse(
      'The file is no PDF.',
      'Save the notice as PDF; a new name does not make it one.',
    );
  }
  if (!hasEnd(content)) return refuse('The PDF breaks off.', 'Load it anew and attach it again.');
  return success({ name: plainName(name), content });
}
