import { parseArgs } from 'node:util';
import { openDatabase } from '@/db/client';
import { actorByEmail } from '@/db/reads/actor-of-person';
import { purgeRecords } from '@/db/writes/purge-records';
import { AccessDenied } from '@/lib/access';
import { retentionWords } from '@/lib/retention/retention-policy';

const usage = `npm run purge -- --as EMAIL            says what the policy in force no longer keeps
npm run purge -- --as EMAIL --apply    takes it away for good

EMAIL is a safety officer's. DATABASE_URL and IDLEMARK_DATA say which database. Ends with 1 when
nothing was done.
`;

function asked(): { readonly as?: string; readonly apply?: boolean } {
  try {
    const options = { as: { type: 'string' }, apply: { type: 'boolean', default: false } } as const;
    return parseArgs({ options }).values;
  } catch {
    return {};
  }
}

const { as: email, apply } = asked();
if (!email) {
  process.stderr.write(usage);
  process.exit(1);
}
const open = await openDatabase({
  url: process.env.DATABASE_URL || undefined,
  folder: process.env.IDLEMARK_DATA || '.data/database',
});
try {
  const actor = await actorByEmail(open.db, email);
  if (!actor) throw new Error(`Nobody who may act is on record under ${email}.`);
  const isDryRun = !apply;
  const { policy, units, counts, entry } = await purgeRecords(open.db, {
    actor,
    isDryRun,
    now: new Date(),
  });
  for (const words of retentionWords(policy)) console.log(words);
  const parts = Object.entries(counts).map(([kind, rows]) => `${rows} ${kind}`);
  console.log(`${isDryRun ? 'Due' : 'Purged'}: ${parts.join(', ')} of ${units} units.`);
  if (isDryRun) console.log('Nothing was taken. Add --apply to take it away for good.');
  if (entry !== null) console.log(`Ledger entry ${entry}.`);
} catch (error) {
  const isExpected = error instanceof AccessDenied || error instanceof Error;
  console.error(isExpected ? error.message : error);
  process.exitCode = 1;
} finally {
  await open.close();
}
