import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unitOfTag } from '@/lib/bay-card/unit-of-tag';
import { parseBuildDate } from '@/lib/bulletins/build-date';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { requiredPartsOf } from '@/lib/bulletins/required-parts';
import { weekOfDateCode } from '@/lib/bulletins/unit-facts';
import { normaliseVin, validateVin } from '@/lib/bulletins/vin';
import { dayFromIso } from '@/lib/calendar';
import { attachedPdf } from '@/lib/intake/attached-pdf';
import { guessMapping, mappingProblems } from '@/lib/intake/import/column-mapping';
import { importFields, importKinds } from '@/lib/intake/import/import-fields';
import { importFitmentRow } from '@/lib/intake/import/import-fitment-row';
import { importOrderRow } from '@/lib/intake/import/import-order-row';
import { importReadingRow } from '@/lib/intake/import/import-reading-row';
import { importUnitRow } from '@/lib/intake/import/import-unit-row';
import type { ImportContext } from '@/lib/intake/import/imported-row';
import { keyedNumber } from '@/lib/intake/keyed-number';
import { partStockKeyed } from '@/lib/intake/part-stock-keyed';
import { parseReadingPayload } from '@/lib/intake/reading-payload';
import { parseTraceCsv } from '@/lib/intake/trace-csv';
import { unitFactsKeyed } from '@/lib/intake/unit-facts-keyed';
import { readYardQuery, writeYardQuery } from '@/lib/intake/yard-query';
import { canonicalJson } from '@/lib/ledger/canonical-json';
import type { Problem } from '@/lib/result';

const asOf = dayFromIso('2026-06-30') as number;
const runs = { numRuns: 2_000, seed: 20_261_129 };

/** Text that is nearly right as often as text that is not. */
const text = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 80 }),
  fc.string({ unit: fc.constantFrom(...'0123456789-/.,:;TZ +eE\u0661\u2212\0'), maxLength: 24 }),
  fc.string({ unit: fc.constantFrom(...'ABCDEFGHJKLMNPRSTUVWXYZ0123456789IOQ'), maxLength: 20 }),
  fc.constantFrom(
    '',
    '2026-02-30',
    '3/19',
    '1e309',
    '-0',
    '13.1',
    'pump C',
    'Aldmoor',
    'oil',
    '\ud800',
  ),
);
const cells = (names: readonly string[]) =>
  fc.record(Object.fromEntries(names.map((name) => [name, text]))) as fc.Arbitrary<
    Record<string, string>
  >;

/** A refusal says where, what, and how to put it right. */
function expectMend(answer: { ok: true } | { ok: false; error: readonly Problem[] | Problem }) {
  if (answer.ok) return;
  const problems = [answer.error].flat();
  expect(problems.length).toBeGreaterThan(0);
  for (const { field, message, mend } of problems)
    expect(Math.min(field.length, message.length, mend.length)).toBeGreaterThan(0);
}

describe('whatever text is given, it is read or refused with a mend:', () => {
  const of = (name: string, read: (given: string) => void) =>
    it(name, () => fc.assert(fc.property(text, read), runs));

  of('a number', (given) => {
    const answer = keyedNumber(given, 'idle');
    expectMend(answer);
    if (answer.ok) {
      expect(given.trim()).toMatch(/^[0-9]+(\.[0-9]+)?$/);
      expect(answer.value).toBe(Number(given.trim()));
    }
  });
  of('a build date, never after the day that asks', (given) => {
    const answer = parseBuildDate(given, asOf);
    expectMend(answer);
    if (answer.ok) expect(answer.value.from).toBeLessThanOrEqual(answer.value.to);
  });
  of('a VIN, of seventeen characters without I, O and Q', (given) => {
    const answer = validateVin(normaliseVin(given), { isCheckDigitRequired: true });
    expectMend(answer);
    if (answer.ok) expect(normaliseVin(given)).toMatch(/^[A-HJ-NPR-Z0-9]{17}$/);
  });
  of('parts that a bulletin asks for', (given) => expectMend(requiredPartsOf(given)));
  of('a date code', (given) => {
    const week = weekOfDateCode(given);
    if (week !== null) expect(given.trim()).toMatch(/^[0-9]{4}$/);
  });
  of('a tag', (given) => {
    const unit = unitOfTag(given);
    if (unit !== null) expect(unit).toMatch(/^[A-Z0-9][A-Z0-9-]{0,15}$/);
  });
  of('a logging gauge’s file', (given) => {
    expectMend(parseTraceCsv(given));
    const framed = parseTraceCsv(`t_s;vacuum_psi\n0;13,1\n${given}\n2;13,1`);
    expectMend(framed);
    if (framed.ok)
      for (const { t, vacuum } of framed.value.samples)
        expect(Number.isFinite(t) && Number.isFinite(vacuum)).toBe(true);
  });
  of('a yard’s address, and what is read is written and read again alike', (given) => {
    for (const address of [
      new URLSearchParams(given),
      new URLSearchParams({ find: given, sort: given, after: given, mark: given }),
    ]) {
      const once = readYardQuery(address);
      expect(readYardQuery(writeYardQuery(once))).toEqual(once);
    }
  });
  of('a PDF by its name and content', (given) => {
    const answer = attachedPdf(given, new TextEncoder().encode(given));
    expectMend(answer);
  });
});

describe('whatever JSON is given, it is read or refused with a mend:', () => {
  const nearly = fc.oneof(
    fc.jsonValue({ maxDepth: 5 }),
    fc.record({
      anyOf: fc.jsonValue({ maxDepth: 4 }),
      make: fc.jsonValue(),
      ranges: fc.jsonValue(),
    }),
  );
  it('a rule', () =>
    fc.assert(
      fc.property(nearly, (given) => expectMend(parseRule(given))),
      runs,
    ));
  it('a reading', () =>
    fc.assert(
      fc.property(nearly, (given) => expectMend(parseReadingPayload(given))),
      runs,
    ));
  it('canonical JSON is JSON, and says the same', () =>
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4 }), (given) => {
        const plain = JSON.parse(JSON.stringify(given));
        expect(JSON.parse(canonicalJson(plain))).toEqual(plain);
      }),
      runs,
    ));
});

describe('whatever cells are given, they are read or refused with a mend:', () => {
  const context: ImportContext = {
    unitOf: (id) =>
      id.length % 2 === 0
        ? { shedId: 'tarn', elevation: 300, timeZone: 'America/Denver' }
        : undefined,
    asksCheckDigit: (id) => id.length % 3 === 0,
    shedOf: (name) => (name === '' ? undefined : 'tarn'),
    personOf: () => undefined,
    gaugeOf: () => undefined,
    templateOf: () => ({ title: 'Pump', hours: 2 }),
    noonOf: (day) => new Date(day * 86_400_000 + 43_200_000),
    now: new Date('2026-06-30T12:00:00Z'),
  };
  const rows = {
    units: importUnitRow,
    readings: importReadingRow,
    fitments: importFitmentRow,
    'work orders': importOrderRow,
  };

  it.each(importKinds)('a row of %s', (kind) => {
    const names = importFields[kind].map(({ name }) => name);
    const mapping = guessMapping(kind, names);
    fc.assert(
      fc.property(
        cells(names),
        fc.constantFrom('point' as const, 'comma' as const),
        (row, decimal) => {
          const read = rows[kind]((name) => row[name] ?? '', 7, { ...mapping, decimal }, context);
          expectMend(read);
          if (read.ok) expect(canonicalJson(read.value.values).length).toBeGreaterThan(0);
          else for (const { line } of read.error) expect(line).toBe(7);
        },
      ),
      runs,
    );
  });

  it.each(importKinds)('a heading of %s', (kind) => {
    fc.assert(
      fc.property(fc.array(text, { maxLength: 30 }), (header) => {
        const problems = mappingProblems(kind, header, guessMapping(kind, header));
        expectMend({ ok: false, error: [...problems, { field: 'f', message: 'm', mend: 'n' }] });
      }),
      runs,
    );
  });

  it('facts of a unit, and a part revision', () => {
    const facts = [
      'vin',
      'make',
      'model',
      'modelYear',
      'engine',
      'built',
      'revision:pump',
      'dateCode:pump',
      'isCheckDigitRequired',
    ];
    fc.assert(
      fc.property(cells(facts), (keyed) =>
        expectMend(unitFactsKeyed((field) => keyed[field] ?? '', asOf)),
      ),
      runs,
    );
    const stock = [
      'partNumber',
      'revision',
      'part',
      'description',
      'supersededBy',
      'inStock',
      'leadTimeDays',
    ];
    fc.assert(
      fc.property(cells(stock), (keyed) => expectMend(partStockKeyed(keyed))),
      runs,
    );
  });
});
