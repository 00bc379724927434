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
  expect(payloadWords('7')).toBe('7');
  expect(payloadWords(null)).toBe('Payload purged by policy; its digest stands.');
});
