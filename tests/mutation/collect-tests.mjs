import * as vitest from '@vitest/expect';

const { chai } = vitest;
chai.use(vitest.JestExtend);
chai.use(vitest.JestChaiExpect);
chai.use(vitest.JestAsymmetricMatchers);
const expect = Object.assign(
  (value, message) => chai.expect(value, message),
  chai.expect,
  globalThis[vitest.ASYMMETRIC_MATCHERS_OBJECT],
);

/**
 * The tests of a file, not yet run. What it sees as `vitest` has the same matchers, and of the rest
 * as much as the tests of the pure library use.
 */
export function collectTests(evaluate) {
  const tests = [];
  let suite = { name: '', before: [] };

  function describe(name, body) {
    const outer = suite;
    suite = { name: `${outer.name} ${name}`, before: [...outer.before] };
    body();
    suite = outer;
  }
  function it(name, ...rest) {
    const body = rest.find((argument) => typeof argument === 'function');
    const { before } = suite;
    tests.push({
      name: `${suite.name} ${name} #${tests.length}`.trim(),
      run() {
        for (const prepare of before.splice(0)) prepare();
        return body();
      },
    });
  }
  const eachOf =
    (register) =>
    (rows) =>
    (name, ...rest) => {
      const body = rest.find((argument) => typeof argument === 'function');
      for (const row of rows) register(name, () => body(...[row].flat(1)));
    };
  describe.each = eachOf(describe);
  it.each = eachOf(it);
  evaluate({ describe, it, expect, beforeAll: (prepare) => suite.before.push(prepare) });
  return tests;
}
