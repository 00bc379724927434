import { openDatabase } from '@/db/client';
import { judgeFleet } from '@/db/record/judge-fleet';
import { learnOnceANight } from '@/db/record/sweep';

// Judges the whole fleet again, whatever day its verdicts are of.
const open = await openDatabase({
  url: process.env.DATABASE_URL || undefined,
  folder: process.env.IDLEMARK_DATA ?? '.data/database',
});
try {
  const now = new Date();
  const hasLearnt = await learnOnceANight(open.db, now);
  const judged = await judgeFleet(open.db, { actor: null, now, because: 'judged again' });
  console.log(`${judged} units judged again${hasLearnt ? ', the fleet prior learnt anew' : ''}.`);
} finally {
  await open.close();
}
