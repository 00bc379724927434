import { closeDatabase, database } from '@/db/handle';
import { environment } from '../_environment';
import { checkAgainstHeads } from '../_keep-daily-head';

// Exit code 0: whole. 1: broken. 2: could not be checked.
try {
  const { headsFolder } = environment();
  const { db } = await database();
  const { entries, head, faults, purged, headsHeld, spoiltHeads } = await checkAgainstHeads(
    db,
    headsFolder,
    new Date(),
  );
  for (const { entry, fault } of faults.slice(0, 50)) console.log(`entry ${entry}: ${fault}`);
  if (faults.length > 50) console.log(`and ${faults.length - 50} more`);
  for (const name of spoiltHeads) console.log(`${name} in ${headsFolder} holds no head`);
  const against =
    headsHeld > 0
      ? `against ${headsHeld} heads kept in ${headsFolder}`
      : `no head is kept in ${headsFolder} yet, so a cut tail cannot be seen`;
  const count = faults.length + spoiltHeads.length;
  if (count > 0) {
    console.log(`Broken: ${count} faults in ${entries} entries, ${against}.`);
    process.exitCode = 1;
  } else {
    const told = purged > 0 ? `, ${purged} of them with their payload purged by policy` : '';
    console.log(`Unbroken: ${entries} entries${told}, ${against}.`);
    console.log(`head ${head ?? 'none'}`);
  }
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exitCode = 2;
} finally {
  await closeDatabase();
}
