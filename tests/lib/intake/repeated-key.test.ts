import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { repeatedKey } from '@/lib/intake/repeated-key';

describe('keys held twice', () => {
  it('follows the docstring', () => {
    expect(repeatedKey('{"idle":"13","idle":"5"}')).toBe('idle');
    expect(repeatedKey('[{"a":1},{"a":2}]')).toBeNull();
  });

  it.each([
    ['{"a":{"b":1,"b":2}}', 'b'],
    ['{"a":1,"b":{"a":1},"a" : 2}', 'a'],
    ['{"a":1,"\\u0061":2}', 'a'],
    ['{"a":["a:",{"c":"{"}],"a":0}', 'a'],
    ['{"\\"":1,"\\"":2}', '"'],
    ['{"__proto__":1,"__proto__":2}', '__proto__'],
  ])('%s', (text, key) => {
    expect(repeatedKey(text)).toBe(key);
  });

  it('finds nothing in what JSON.stringify writes, whose objects have each key once', () => {
    fc.assert(
      fc.property(fc.json(), fc.nat(3), (text, indent) => {
        expect(repeatedKey(JSON.stringify(JSON.parse(text), null, indent))).toBeNull();
      }),
    );
  });

  it('finds a key repeated at any place of any value', () => {
    fc.assert(
      fc.property(fc.string(), fc.json(), fc.json(), (key, one, two) => {
        const name = JSON.stringify(key);
        expect(
          repeatedKey(`[${one},{${name}:${one},"other ${key.length}":0,${name}:${two}}]`),
        ).toBe(repeatedKey(one) ?? key);
      }),
    );
  });

  it('takes a depth of 100,000', () => {
    expect(repeatedKey(`${'['.repeat(100_000)}${']'.repeat(100_000)}`)).toBeNull();
  });
});
