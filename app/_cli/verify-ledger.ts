import { closeDatabase, database } from '@/db/handle';
import { checkLedger } from '@/db/ledger';
import { environment } from '../_environment';
import { keepHead, newestHead } from '../_ledger-heads';

// Exit code 0: whole. 1: broken. 2: could not be checked.
try {
  const { headsFolder } = environment();
  const { db } = await database();
  const expected = newestHead(headsFolder);
  const { entries, head, faults } = await checkLedger(db, expected ?? undefined);
  for (const { entry, fault } of faults.slice(0, 50)) console.log(`entry ${entry}: ${fault}`);
  if (faults.length > 50) console.log(`and ${faults.length - 50} more`);
  const against = expected
    ? `against the head kept of entry ${expected.entry}`
    : `no head is kept in ${headsFolder} yet, so a cut tail cannot be seen`;
  if (faults.length > 0) {
    console.log(`Broken: ${faults.length} faults in ${entries} entries, ${against}.`);
    process.exitCode = 1;
  } else {
    if (head !== null) keepHead(headsFolder, { entry: entries, hash: head }, new Date());
    console.log(`Unbroken: ${entries} entries, ${against}.`);
    console.log(`head ${head ?? 'none'}`);
  }
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 2;
} finally {
  await closeDatabase();
}
