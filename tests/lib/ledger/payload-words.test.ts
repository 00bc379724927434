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
  expect(
    payloadWords(
      '{"digest":"33d0","reading":{"couldNot":{},"idle":{"unit":"inHg","value":"4.9"},"isProof":false}}',
    ),
  ).toBe('reading: idle 4.9 inHg, is proof no');
  expect(payloadWords('{"spellId":"15549e95-8860-481f-b1e1-af211324154a"}')).toBe('whole payload');
  expect(payloadWords('7')).toBe('7');
  expect(payloadWords(null)).toBe('Payload purged by policy; its digest stands.');
});
