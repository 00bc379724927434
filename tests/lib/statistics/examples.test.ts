import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const folder = new URL('../../../lib/statistics/', import.meta.url);

const files = readdirSync(folder).filter((name) => name.endsWith('.ts') && name !== 'index.ts');
const modules = Promise.all(
  files.map(
    (name): Promise<Record<string, unknown>> =>
      import(`../../../lib/statistics/${name.slice(0, -'.ts'.length)}.ts`),
  ),
);

/** `@example expression -> value` of every docstring in lib/statistics. */
const examples = files.flatMap((name) =>
  [
    ...readFileSync(new URL(name, folder), 'utf8').matchAll(/@example (.+) -> (.+?)(?: \*\/)?$/gm),
  ].map(([, expression, value]) => ({ name, expression: expression!, value: value! })),
);

async function evaluate(expression: string): Promise<unknown> {
  const exported: Record<string, unknown> = Object.assign({}, ...(await modules));
  const names = Object.keys(exported);
  return new Function(...names, `return (${expression});`)(...Object.values(exported));
}

/** Numbers agree to the last decimal that the example gives, or to 1e-9 of themselves. */
function expectSame(actual: unknown, expected: unknown): void {
  if (typeof expected === 'number') {
    const decimals = String(expected).split('.')[1];
    const lastDecimal = decimals ? 10 ** -decimals.length : 0;
    const distance = Math.max(lastDecimal, 1e-9 * Math.abs(expected));
    expect(Math.abs(Number(actual) - expected)).toBeLessThanOrEqual(distance);
  } else if (Array.isArray(expected)) {
    expect(actual).toHaveLength(expected.length);
    for (const [i, value] of expected.entries()) expectSame((actual as unknown[])[i], value);
  } else {
    expect(actual).toEqual(expected);
  }
}

it.each(examples)('$name: $expression', async ({ expression, value }) => {
  expectSame(await evaluate(expression), JSON.parse(value));
});

it('finds an example in nearly every file', () => {
  expect(new Set(examples.map(({ name }) => name)).size).toBeGreaterThan(30);
});
