import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { codeLength, codeOfBytes, keyedCode } from '@/lib/people/one-time-code';

const twenty = fc.uint8Array({ minLength: codeLength, maxLength: codeLength });

describe('a one-time code', () => {
  it('runs from zero bytes, as in the docstring, and needs twenty', () => {
    expect(codeOfBytes(new Uint8Array(20))).toBe('00000-00000-00000-00000');
    expect(codeOfBytes(new Uint8Array(19))).toBeNull();
    expect(keyedCode('o000o 00000 00000 0000l')).toBe('00000000000000000001');
  });

  it('spells the symbols of the published table, whose 22 is P and 31 is Z', () => {
    // From memory of Crockford's table: 17 H, 18 J, 20 M, 22 P, 27 V, 31 Z.
    expect(codeOfBytes(Uint8Array.from([17, 18, 20, 22, 27, 31, ...Array(14).fill(0)]))).toBe(
      'HJMPV-Z0000-00000-00000',
    );
  });

  it('is keyed back whatever the case and the gaps', () => {
    fc.assert(
      fc.property(twenty, (bytes) => {
        const code = codeOfBytes(bytes) ?? '';
        expect(keyedCode(` ${code.toLowerCase().replaceAll('-', '  ')} `)).toBe(
          code.replaceAll('-', ''),
        );
      }),
    );
  });

  it('is not made of anything else', () => {
    for (const text of ['', '0000', 'U0000-00000-00000-00000', '00000-00000-00000-000000', '\0']) {
      expect(keyedCode(text)).toBeNull();
    }
  });
});
