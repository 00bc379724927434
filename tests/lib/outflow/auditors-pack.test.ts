import { describe, expect, it } from 'vitest';
import { amendedWords } from '@/lib/outflow/amended-words';
import { auditorsPack } from '@/lib/outflow/pack/auditors-pack';
import { packCsv } from '@/lib/outflow/pack/pack-csv';
import { retentionOf } from '@/lib/outflow/pack/retention';
import { aPack, wholeCheck } from '../../support/a-pack';

const reader = { name: 'Moro Vey, A-01', pressure: 'psi', distance: 'mi' } as const;
const pack = auditorsPack(aPack(), wholeCheck, reader);
const table = (name: string, from = pack) => {
  const found = from.blocks.find((block) => block.is === 'table' && block.name === name);
  if (found?.is !== 'table') throw new Error(`no table ${name}`);
  return found;
};
const said = (from = pack) =>
  from.blocks.flatMap((block) => (block.is === 'table' ? [] : [block.text])).join('\n');

describe("the auditor's pack", () => {
  it('holds every part that an auditor asks for, under a heading', () => {
    expect(pack.blocks.filter(({ is }) => is === 'heading')).toMatchObject(
      [
        "Auditor's pack: unit 0417",
        'Verification of the ledger',
        'Units',
        'Readings, as first recorded',
        'Amendments',
        'Verdicts',
        'Limits of these verdicts',
        'Spells out of service, and their signatures',
        'Work',
        'Bulletins',
        'Ledger entries',
      ].map((text) => ({ text })),
    );
    for (const block of pack.blocks) {
      if (block.is !== 'table') continue;
      expect(block.rows.length).toBeGreaterThan(0);
      for (const row of block.rows) expect(row).toHaveLength(block.columns.length);
    }
  });

  it("gives figures in the reader's units and says what was not measured", () => {
    const [row] = table('Readings').rows;
    expect(row).toContain('7.0');
    expect(row).toContain('50000');
    expect(row).toContain('–');
    expect(row?.at(-1)).toBe('G-3; hold: no time');
    const inKpa = auditorsPack(aPack(), wholeCheck, { ...reader, pressure: 'kPa', distance: 'km' });
    expect(table('Readings', inKpa).rows[0]).toContain('48.3');
    expect(table('Values of these sets').rows).toContainEqual([
      'Idle, stop below (as read)',
      '7 psi',
    ]);
  });

  it('names the three people, first values and new, and full hashes', () => {
    const [spell] = table('Spells').rows;
    expect(spell?.join('\n')).toMatch(
      /Ode Marrit, T-08[\s\S]*Žofia Łuk, T-12[\s\S]*Rhea Solt, S-01/,
    );
    expect(table('Amendments').rows[0]).toContain('line: film, then dry');
    expect(table('Ledger entries').rows[0]?.at(-1)).toBe(
      ['a', 'b', 'c'].map((letter) => letter.repeat(64)).join('\n'),
    );
  });

  it('says how the chain stood, broken or whole, and against what', () => {
    expect(said()).toContain('Unbroken: all 812 entries');
    expect(said()).toContain('held against 4 heads');
    const broken = auditorsPack(
      aPack(),
      {
        ...wholeCheck,
        faults: [{ entry: 7, fault: 'hash differs' }],
        headsHeld: 0,
        spoiltHeads: ['2026-01-01.json'],
      },
      reader,
    );
    expect(said(broken)).toContain('BROKEN at entry 7 (hash differs)');
    expect(said(broken)).toContain('a cut tail could not be seen');
    expect(said(broken)).toContain('2026-01-01.json could not be read');
    expect(said(broken)).not.toContain('Unbroken');
  });

  it('never calls a unit safe, and puts the law and service information first', () => {
    expect(said()).not.toMatch(/\bsafe\b/i);
    expect(said()).toContain('service information in force, local law and a licensed technician');
  });
});

// 49 CFR 396.3(c): one year where housed, six months after leaving; 390.5: 10,001 lb = 4,536 kg.
describe('how long the record is kept', () => {
  it('is a year in the fleet and six months after it, with whom the rule binds', () => {
    expect(retentionOf({ gvwrKg: 4_536, leftFleetOn: null }, '2024-02-29')).toEqual({
      binds: 'binds in interstate commerce: rating 4,536 kg',
      keep: 'each record 1 year (newest to 2025-02-28), and 6 months after the unit leaves',
    });
    expect(retentionOf({ gvwrKg: 4_535, leftFleetOn: '2025-08-31' }, null)).toEqual({
      binds: 'not by weight: rating 4,535 kg; only by passengers or placarded goods',
      keep: 'to 2026-02-28: 6 months after it left on 2025-08-31',
    });
    expect(retentionOf({ gvwrKg: 4_536, leftFleetOn: '2025-08-31' }, null).keep).toBe(
      'to 2026-02-28: 6 months after it left on 2025-08-31',
    );
    expect(retentionOf({ gvwrKg: null, leftFleetOn: null }, null)).toEqual({
      binds: 'cannot tell: no weight rating on record',
      keep: 'each record 1 year (nothing on record), and 6 months after the unit leaves',
    });
  });
});

describe('the pack as a file', () => {
  it('keeps texts and amended values readable', () => {
    expect(
      packCsv({
        title: 't',
        blocks: [
          { is: 'heading', text: 'Work' },
          { is: 'text', text: 'x' },
        ],
      }),
    ).toBe('table,row,column,value\r\nWork,0,text,x\r\n');
    expect(amendedWords({ line: 'dry' }, { line: 'film' })).toEqual(['line: dry, then film']);
    expect(amendedWords({ recoveryS: null }, { recoveryS: 4.5 })).toEqual([
      'recovery, s: not measured, then 4.50',
    ]);
  });

  it('has one record a cell, formulas defused, texts under their heading', () => {
    const [order] = aPack().orders;
    if (!order) throw new Error('the pack has an order');
    const facts = aPack({ orders: [{ ...order, why: '=1+1' }] });
    const text = packCsv(auditorsPack(facts, wholeCheck, reader));
    const records = text.split('\r\n');
    expect(records[0]).toBe('table,row,column,value');
    expect(records).toContain("Work orders,1,Why,'=1+1");
    expect(records).toContain(
      '"Identity and retention, after 49 CFR 396.3(b) and (c)",1,Unit,0417',
    );
    expect(text).toMatch(/Verification of the ledger,0,text,"?Unbroken/);
  });
});
