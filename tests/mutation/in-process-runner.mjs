// A test runner for Stryker that keeps the tests in its own process: bundled once, evaluated afresh
// for each mutant, the quickest first. A mutant costs its tests, not the start of a framework.
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, relative, resolve } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import vm from 'node:vm';
import { build } from 'esbuild';
import { collectTests } from './collect-tests.mjs';
import { isInSample, outsideSample } from './sample.mjs';
import { Scores } from './scores.mjs';
import { isLeftOut, testFiles } from './tests-tried.mjs';

const bundles = '.mutation-bundles';
const timesFile = join(bundles, 'times.json');

/** Of the tests that reach a mutant, as many are tried as took this long together unmutated. */
const budgetMilliseconds = Number(process.env.MUTATION_BUDGET_MS ?? 4000);
if (!(budgetMilliseconds >= 0)) throw new RangeError('MUTATION_BUDGET_MS is a number from 0 on');

/** A test that ran this long, and three times as long as it does unmutated, is in an endless loop. */
const patienceMilliseconds = 1000;

const require = createRequire(resolve('package.json'));
globalThis.__stryker__ ??= {};
const stryker = globalThis.__stryker__;

/**
 * A property is tried on the same few values at each mutant, and one that fails is not shrunk. One
 * that brings its own seed counts on the values of that seed.
 */
const fastCheck = require('fast-check');
const fewRuns = {
  ...fastCheck,
  assert: (property, options) =>
    fastCheck.assert(property, {
      seed: 1,
      ...options,
      endOnFailure: true,
      ...(options?.seed === undefined && { numRuns: Math.min(options?.numRuns ?? 100, 30) }),
    }),
};

/** A bundle is no module: what a file says of its own address is written into it. */
const ownAddress = {
  name: 'own-address',
  setup({ onLoad }) {
    onLoad({ filter: /[\\/]tests[\\/].*\.ts$/ }, ({ path }) => ({
      loader: 'ts',
      contents: readFileSync(path, 'utf8').replaceAll(
        'import.meta.url',
        JSON.stringify(pathToFileURL(path).href),
      ),
    }));
  },
};

async function bundle(files) {
  await build({
    absWorkingDir: process.cwd(),
    entryPoints: files,
    outbase: '.',
    outdir: bundles,
    bundle: true,
    format: 'cjs',
    platform: 'node',
    packages: 'external',
    alias: { '@': process.cwd() },
    plugins: [ownAddress],
    logLevel: 'error',
  });
}

const scripts = new Map();

function scriptOf(file) {
  if (!scripts.has(file)) {
    const code = readFileSync(join(bundles, file.replace(/\.ts$/, '.js')), 'utf8');
    scripts.set(file, new vm.Script(`(function (require) {${code}\n})`, { filename: file }));
  }
  return scripts.get(file);
}

/** The tests of a file evaluated afresh, once all that it loads by the way has been loaded too. */
async function testsOf(file) {
  const evaluate = scriptOf(file).runInThisContext();
  const tests = collectTests((vitest) =>
    evaluate((name) => ({ vitest, 'fast-check': fewRuns })[name] ?? require(name)),
  );
  await setImmediate();
  return new Map(tests.map((test) => [`${file}#${test.name}`, test]));
}

const callTest = new vm.Script('runTest()');

/** What `run` fails with, or null. Its loops are broken off once they take too long. */
async function failureOf(run, timeout) {
  globalThis.runTest = run;
  try {
    await callTest.runInThisContext({ timeout });
    return null;
  } catch (error) {
    return error;
  }
}

class InProcessRunner {
  /** Mutants that each test has told apart so far: what found the last finds the next. */
  found = new Map();

  /** First the tests that have told most apart for the time they take (Smith's rule, 1956). */
  order(ids) {
    const worth = (id) => (1 + (this.found.get(id) ?? 0)) / (1 + this.times[id]);
    return ids.toSorted((a, b) => worth(b) - worth(a));
  }

  capabilities() {
    return { reloadEnvironment: true };
  }

  async dryRun(options) {
    const files = options.testFiles?.map((file) => relative('.', file)) ?? testFiles();
    await bundle(files);
    const tests = [];
    for (const file of files)
      for (const [id, test] of await testsOf(file)) {
        if (isLeftOut(id)) continue;
        stryker.currentTestId = id;
        const from = performance.now();
        const failure = await failureOf(test.run);
        const timeSpentMs = performance.now() - from;
        stryker.currentTestId = undefined;
        tests.push({
          id,
          name: test.name,
          fileName: resolve(file),
          timeSpentMs,
          ...(failure === null ? { status: 0 } : { status: 1, failureMessage: String(failure) }),
        });
      }
    const times = tests.map(({ id, timeSpentMs }) => [id, timeSpentMs]);
    writeFileSync(timesFile, JSON.stringify(Object.fromEntries(times)));
    return { status: 'complete', tests, mutantCoverage: stryker.mutantCoverage };
  }

  async mutantRun({ activeMutant, testFilter, hitLimit }) {
    if (!isInSample(activeMutant)) return { status: 'error', errorMessage: outsideSample };
    this.times ??= JSON.parse(readFileSync(timesFile, 'utf8'));
    const loaded = new Map();
    Object.assign(stryker, { hitCount: 0, hitLimit });
    let nrOfTests = 0;
    let spent = 0;
    for (const id of this.order(testFilter)) {
      spent += this.times[id];
      if (nrOfTests > 0 && spent > budgetMilliseconds) break;
      nrOfTests += 1;
      const file = id.slice(0, id.indexOf('#'));
      if (!loaded.has(file)) loaded.set(file, await testsOf(file));
      stryker.activeMutant = activeMutant.id;
      const failure = await failureOf(
        loaded.get(file).get(id).run,
        Math.ceil(patienceMilliseconds + 3 * this.times[id]),
      );
      stryker.activeMutant = undefined;
      if (stryker.hitCount > hitLimit || failure?.code === 'ERR_SCRIPT_EXECUTION_TIMEOUT')
        return { status: 'timeout' };
      if (failure !== null) {
        this.found.set(id, (this.found.get(id) ?? 0) + 1);
        return { status: 'killed', killedBy: [id], failureMessage: String(failure), nrOfTests };
      }
    }
    return { status: 'survived', nrOfTests };
  }
}

export const strykerPlugins = [
  { kind: 'TestRunner', name: 'in-process', factory: () => new InProcessRunner() },
  { kind: 'Reporter', name: 'scores', factory: () => new Scores() },
];
