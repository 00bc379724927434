import { describe, expect, it } from 'vitest';
import { linePhoto, mostPhotoBytes } from '@/lib/intake/line-photo';

/** First and last bytes of a JPEG: ITU-T T.81, annex B. */
const jpeg = (size: number) => {
  const content = new Uint8Array(size);
  content.set([0xff, 0xd8, 0xff, 0xe0]);
  content.set([0xff, 0xd9], size - 2);
  return content;
};
const why = (content: Uint8Array) => {
  const read = linePhoto(content);
  return read.ok ? null : read.error.message;
};

describe('a picture of the line', () => {
  it('is a whole JPEG of bounded size', () => {
    expect(why(jpeg(mostPhotoBytes))).toBeNull();
    expect(why(jpeg(mostPhotoBytes + 1))).toBe('It is over 500 kB.');
  });

  it('is known by what it holds', () => {
    expect(why(new Uint8Array())).toBe('The picture is empty.');
    expect(why(new TextEncoder().encode('<svg onload="x">'))).toBe('It is no JPEG.');
    expect(why(Uint8Array.of(0x89, 0x50, 0x4e, 0x47))).toBe('It is no JPEG.');
    expect(why(jpeg(2000).subarray(0, 1999))).toBe('The picture breaks off.');
    expect(why(Uint8Array.of(0xff, 0xd8))).toBe('It is no JPEG.');
  });
});
