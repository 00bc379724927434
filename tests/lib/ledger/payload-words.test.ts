import { expect, it } from 'vitest';
import { payloadWords } from '@/lib/ledger/payload-words';

it('says the payload’s own words, else its values', () => {
  expect(payloadWords('{"reason":"misread","to":3}')).toBe('misread');
  expect(payloadWords('{"why":"","cause":"belt off"}')).toBe('belt off');
  expect(payloadWords('{"from":"placed","shed":null,"tasks":[1],"to":"begun"}')).toBe(
    'from: placed, tasks, to: begun',
  );
  expect(payloadWords('7')).toBe('7');
  expect(payloadWords(null)).toBe('Payload purged by policy; its digest stands.');
});
