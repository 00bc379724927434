import { parseArgs } from 'node:util';
import { openDatabase } from '@/db/client';
import { sweepFleet } from '@/db/record/sweep';
import { unit } from '@/db/schema';
import { dayFromIso, localDay } from '@/lib/calendar';
import { fillFleet } from './fill-fleet';
import { tellRecentWeeks } from './tell-recent-weeks';

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '120' },
    'as-of': { type: 'string' },
    seed: { type: 'string', default: '20260630' },
    years: { type: 'string', default: '4' },
  },
});

function fail(message: string): never {
  console.error(message);
  process.exit(1);
}

const count = Number(values.units);
if (!Number.isInteger(count) || count < 1 || count > 200_000) {
  fail(`--units ${values.units}: key a whole number from 1 to 200000.`);
}
const years = Number(values.years);
if (!Number.isInteger(years) || years < 1 || years > 10) {
  fail(`--years ${values.years}: key a whole number from 1 to 10.`);
}
const asOf =
  values['as-of'] === undefined
    ? localDay(new Date(), 'America/Los_Angeles')
    : (dayFromIso(values['as-of']) ??
      fail(`--as-of ${values['as-of']}: key a date such as 2026-06-30.`));

const open = await openDatabase({
  url: process.env.DATABASE_URL || undefined,
  folder: process.env.IDLEMARK_DATA ?? '.data/database',
});
try {
  const [any] = await open.db.select({ id: unit.id }).from(unit).limit(1);
  if (any) fail('The database holds units already. The demo fleet goes into an empty one.');
  const started = performance.now();
  const fleet = await fillFleet(open.db, { count, asOf, seed: Number(values.seed), years });
  await tellRecentWeeks(open.db, { asOf, fleet });
  const noon = asOf * 86_400_000 + 20 * 3_600_000;
  await sweepFleet(open.db, new Date(Math.min(noon, Date.now())), { learns: false });
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  console.log(`${fleet.unitCount} units, ${fleet.readingCount} readings, judged in ${seconds} s.`);
} finally {
  await open.close();
}
