import { expect, it } from 'vitest';
import { payloadWords } from '@/lib/ledger/payload-words';

it('says the payload’s own words, else its values', () => {
  expect(payloadWords('{"reason":"misread","to":3}')).toBe('misread');
  expect(payloadWords('{"why":"","cause":"belt off"}')).toBe('belt off');
  expect(payloadWords('{"from":"placed","shed":null,"tasks":[1],"to":"begun"}')).toBe(
    'from: placed, tasks: 1, to: begun',
  );
  expect(
    payloadWords(
      '{"placed":[{"workOrder":7,"shed":null},{"workOrder":8,"week":"2026-W32"},{"workOrder":9}]}',
    ),
  ).toBe('placed: work order 7; work order 8, week 2026-W32; and 1 more');
  expect(payloadWords('{"tasks":[]}')).toBe('tasks: none');
  expect(payloadWords('{"weeks":["2026-W31","2026-W32"]}')).toBe('weeks: 2026-W31; 2026-W32');
  expect(payloadWords('{"weeks":[null,7,true]}')).toBe('weeks: null; 7; and 1 more');
  expect(payloadWords('{"limit":{"value":"7"},"gauge":{"unit":"psi"}}')).toBe(
    'limit: value 7, gauge: unit psi',
  );
  expect(
    payloadWords(
      '{"digest":"33d0","reading":{"couldNot":{},"idle":{"unit":"inHg","value":"4.9"},"isProof":false}}',
    ),
  ).toBe('reading: idle 4.9 inHg, is proof no');
  expect(payloadWords('{"spellId":"15549e95-8860-481f-b1e1-af211324154a"}')).toBe('whole payload');
  expect(payloadWords('7')).toBe('7');
  expect(payloadWords('null')).toBe('null');
  expect(payloadWords(null)).toBe('Payload purged by policy; its digest stands.');
});

it('says a bulletin as people write one, alone and among those of a file', () => {
  const entered = {
    ...{ number: 'SB-7', issue: '2', kind: 'mandatory', source: 'the maker' },
    rule: { anyOf: [{ make: ['Alder'], built: { from: '2018-11' } }, { ageMonths: { from: 24 } }] },
    ...{ requiredParts: 'pump C', supersedes: 'SB-7 issue 1', doesDoneCarry: true },
    unitsTouched: 12,
  };
  const words =
    'SB-7 issue 2, mandatory: make is Alder; build date is 2018-11 or later, or age is 24 months or more; needs pump C; replaces SB-7 issue 1, whose work counts; 12 units covered or undecided; source: the maker';
  expect(payloadWords(JSON.stringify(entered))).toBe(words);
  const plain = { ...entered, supersedes: null, requiredParts: '', unitsTouched: 1 };
  const imported = { bulletins: [{ ...plain, rule: { anyOf: [{ everyUnit: true }] } }] };
  expect(payloadWords(JSON.stringify(imported))).toBe(
    'bulletins: SB-7 issue 2, mandatory: every unit; 1 unit covered or undecided; source: the maker',
  );
  const unread = { ...entered, rule: { anyOf: [] } };
  expect(payloadWords(JSON.stringify(unread))).toContain('number: SB-7, issue: 2');
});
