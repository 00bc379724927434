import { openDatabase } from '@/db/client';
import { sweepFleet } from '@/db/record/sweep';

// Judges the whole fleet again, whatever day its verdicts are of.
const open = await openDatabase({
  url: process.env.DATABASE_URL || undefined,
  folder: process.env.IDLEMARK_DATA ?? '.data/database',
});
try {
  const { judged, hasLearnt } = await sweepFleet(open.db, new Date(), {
    isForced: true,
    learns: true,
  });
  console.log(`${judged} units judged again${hasLearnt ? ', the fleet prior learnt anew' : ''}.`);
} finally {
  await open.close();
}
