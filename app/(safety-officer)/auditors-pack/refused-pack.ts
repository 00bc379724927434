import type { PackRefusal } from '@/db/reads/pack-facts';
import { mostRows } from '@/db/reads/pack-span';
import { dayFromIso, isoFromDay } from '@/lib/calendar';
import type { Problem } from '@/lib/result';
import { readPackRequest } from './pack-request';

type Asked = URLSearchParams;

/** The page that says why an asked pack is not made; what was asked stands in its form. */
export function addressOfRefusal(asked: Asked, refusal: PackRefusal | null): string {
  const told = new URLSearchParams(asked);
  told.set('refused', refusal?.is ?? 'unfit');
  if (refusal?.is === 'too long') told.set('rows', String(refusal.rows));
  return `/auditors-pack?${told}`;
}

/** What is wrong with what was asked, by the field to mend. */
export function problemsOfRefusal(asked: Asked): readonly Problem[] {
  const refused = asked.get('refused');
  if (refused === null) return [];
  const request = readPackRequest(asked);
  if (!request.success) {
    return request.error.issues.map(({ path, message }) => ({
      field: String(path[0]),
      message: 'This pack cannot be made.',
      mend: message,
    }));
  }
  if (refused === 'unknown unit') {
    const message = `No unit ${request.data.unit ?? ''} is on record.`;
    return [{ field: 'unit', message, mend: "Key the unit's number as on its tag." }];
  }
  const most = mostRows.toLocaleString('en-US');
  const rows = Number(asked.get('rows'));
  const counted =
    Number.isSafeInteger(rows) && rows > 0
      ? `, ${rows.toLocaleString('en-US')} counted so far`
      : '';
  return [
    {
      field: 'from',
      message: `This pack is too long: more than ${most} rows${counted}.`,
      mend: 'Choose a shorter period, or one unit, and make several packs.',
    },
  ];
}

/** The two halves of an asked period, as packs to ask for instead; none without a period to halve. */
export function halvesOf(asked: Asked): readonly URLSearchParams[] {
  const from = dayFromIso(asked.get('from') ?? '');
  const to = dayFromIso(asked.get('to') ?? '');
  if (from === null || to === null || from >= to) return [];
  const middle = Math.floor((from + to) / 2);
  return [
    [from, middle],
    [middle + 1, to],
  ].map(([first = from, last = to]) => {
    const half = new URLSearchParams();
    for (const name of ['unit', 'paper']) {
      const value = asked.get(name);
      if (value) half.set(name, value);
    }
    half.set('from', isoFromDay(first));
    half.set('to', isoFromDay(last));
    return half;
  });
}
