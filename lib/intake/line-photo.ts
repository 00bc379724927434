import { failure, type Problem, type Result, success } from '@/lib/result';

/** A picture of 1,280 pixels takes about a third of this. Own choice. */
export const mostPhotoBytes = 500_000;

const startOfImage = [0xff, 0xd8, 0xff] as const;
const endOfImage = [0xff, 0xd9] as const;

/**
 * A picture of the line as a device sends it: a whole JPEG by what it holds, whatever it is called.
 * Empty, too large, cut off or of another kind is refused with what to do.
 *
 * Source of the first and last bytes: ITU-T T.81, annex B.
 * @example linePhoto(new Uint8Array([0x25, 0x50])) is refused: no JPEG
 */
export function linePhoto(content: Uint8Array): Result<Uint8Array, Problem> {
  const refuse = (message: string) =>
    failure({ field: 'photo', message, mend: 'Take the picture again.' });
  if (content.length === 0) return refuse('The picture is empty.');
  if (content.length > mostPhotoBytes) return refuse(`It is over ${mostPhotoBytes / 1000} kB.`);
  if (!startOfImage.every((byte, at) => content[at] === byte)) return refuse('It is no JPEG.');
  if (!endOfImage.every((byte, at) => content.at(at - 2) === byte)) {
    return refuse('The picture breaks off.');
  }
  return success(content);
}
