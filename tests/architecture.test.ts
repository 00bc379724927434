import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { purityBreaches, ringBreaches, writeBreaches } from './support/architecture-rules';

const filesIn = (folder: string, ending: RegExp): { file: string; source: string }[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((path) => `${folder}/${path.replaceAll('\\', '/')}`)
    .filter((file) => ending.test(file))
    .map((file) => ({ file, source: readFileSync(file, 'utf8') }));

const rings = ['lib', 'db', 'app'].flatMap((ring) => filesIn(ring, /\.tsx?$/));
const pure = filesIn('lib', /\.ts$/);
const writes = filesIn('db/writes', /\.ts$/);

/** Writes of no person: the sign-in door's counters and codes, and the machine's own bookkeeping. */
const writesWithoutActor = new Set([
  'db/writes/ask-reset-code.ts',
  'db/writes/count-failed-sign-in.ts',
  'db/writes/issue-first-run-code.ts',
]);

/** Writes whose right is a one-time code that is spent in them: nobody is signed in yet. */
const writesByCode = new Set(['db/writes/accept-code.ts', 'db/writes/make-first-admin.ts']);

describe('the rings', () => {
  it('sees files in each ring', () => {
    for (const ring of ['lib', 'db', 'app']) {
      expect(rings.filter(({ file }) => file.startsWith(`${ring}/`)).length).toBeGreaterThan(5);
    }
  });

  it('imports point inward only', () => {
    expect(rings.flatMap(({ file, source }) => ringBreaches(file, source))).toEqual([]);
  });

  it('lib reads no clock, takes no chance and touches no machine', () => {
    expect(pure.flatMap(({ file, source }) => purityBreaches(file, source))).toEqual([]);
  });

  it('every write asks for permission and leaves a ledger entry', () => {
    const checked = writes.filter(({ file }) => !writesWithoutActor.has(file));
    const right = (file: string) => (writesByCode.has(file) ? 'spendCode' : 'requirePermission');
    expect(checked.flatMap(({ file, source }) => writeBreaches(file, source, right(file)))).toEqual(
      [],
    );
  });
});

describe('the rules themselves fail when broken', () => {
  it.each([
    ['lib/analysis/x.ts', "import { db } from '@/db/client';"],
    ['lib/analysis/x.ts', "import { db } from '../../db/client';"],
    ['lib/analysis/x.ts', "import fs from 'node:fs';"],
    ['lib/analysis/x.ts', "import { useState } from 'react';"],
    ['lib/analysis/x.ts', "const x = await import('@/app/page');"],
    ['db/reads/x.ts', "import { Mark } from '@/app/_ui/mark';"],
    ['db/reads/x.ts', "export { y } from '../../tests/support/y';"],
  ])('%s: %s', (file, source) => {
    expect(ringBreaches(file, source)).toHaveLength(1);
  });

  it.each([
    'const now = new Date();',
    'const now = Date.now();',
    'const chance = Math.random();',
    'const home = process.env.HOME;',
    'console.log(1);',
    'setTimeout(f, 1);',
  ])('lib with %s', (source) => {
    expect(purityBreaches('lib/x.ts', source)).toHaveLength(1);
  });

  it('accepts what is pure', () => {
    expect(purityBreaches('lib/x.ts', 'const d = new Date(0); const p = { process: 1 };')).toEqual(
      [],
    );
    expect(ringBreaches('db/reads/x.ts', "import { may } from '@/lib/access';")).toEqual([]);
  });

  it('finds a write that skips permission or ledger', () => {
    expect(writeBreaches('db/writes/x.ts', 'await tx.insert(unit);')).toHaveLength(2);
    expect(
      writeBreaches('db/writes/x.ts', 'requirePermission(actor); appendToLedger(tx);'),
    ).toEqual([]);
  });
});
