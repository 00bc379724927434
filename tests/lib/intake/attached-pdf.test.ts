import { describe, expect, it } from 'vitest';
import { attachedPdf, mostAttachmentBytes } from '@/lib/intake/attached-pdf';

const bytes = (text: string) => new TextEncoder().encode(text);
const pdf = bytes('%PDF-1.7\n1 0 obj\n<<>>\nendobj\n%%EOF\n');

describe('an attached notice', () => {
  it('is a PDF by what it holds, under a plain name', () => {
    expect(attachedPdf('..\\notices\\SB-14?.PDF', pdf)).toEqual({
      ok: true,
      value: { name: 'SB-14_.pdf', content: pdf },
    });
    expect(attachedPdf('', pdf)).toMatchObject({ value: { name: 'notice.pdf' } });
    expect(attachedPdf('a\r\nset-cookie: x"; y', pdf)).toMatchObject({
      value: { name: 'a__set-cookie_ x__ y.pdf' },
    });
  });

  it.each([
    ['empty', new Uint8Array()],
    ['a page named as PDF', bytes('<!doctype html><script>1</script>%%EOF')],
    ['a PDF that breaks off', bytes('%PDF-1.7\n1 0 obj')],
    ['a picture', new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10])],
    ['its mark somewhere inside', bytes('GIF89a%PDF-1.7 %%EOF')],
  ])('refuses %s', (_, content) => {
    expect(attachedPdf('notice.pdf', content).ok).toBe(false);
  });

  it('takes five mebibytes and not one byte more', () => {
    const sized = (size: number) => {
      const content = new Uint8Array(size).fill(32);
      content.set(bytes('%PDF-1.7'), 0);
      content.set(bytes('%%EOF'), size - 5);
      return attachedPdf('big.pdf', content).ok;
    };
    expect(sized(mostAttachmentBytes)).toBe(true);
    expect(sized(mostAttachmentBytes + 1)).toBe(false);
  });
});
