import { benchAssess } from './assess';
import { benchBayCard } from './bay-card';
import { benchBulletins } from './bulletins';
import { benchCause } from './cause';
import { benchDesk } from './desk';
import { multiplyFleet } from './multiply-fleet';
import { benchPages } from './pages';
import { benchPlanning } from './planning';
import { benchStatistics } from './statistics';
import { benchWear } from './wear';

const benches: Record<string, () => unknown> = {
  statistics: benchStatistics,
  assess: benchAssess,
  bulletins: benchBulletins,
  cause: benchCause,
  pages: benchPages,
  planning: () => benchPlanning(),
  'planning-bound': () => benchPlanning(90),
  wear: benchWear,
  'bay-card': benchBayCard,
  desk: benchDesk,
  'multiply-fleet': multiplyFleet,
};

/** Need the built product and a browser, fill a database, or take minutes: run when they are named. */
const onlyByName = new Set(['bay-card', 'desk', 'multiply-fleet', 'planning-bound']);

const wanted = process.argv.slice(2);
const unknown = wanted.filter((name) => !(name in benches));
if (unknown.length > 0) {
  console.error(`No bench ${unknown.join(', ')}; there are ${Object.keys(benches).join(', ')}.`);
  process.exitCode = 1;
} else {
  const all = Object.keys(benches).filter((name) => !onlyByName.has(name));
  for (const name of wanted.length > 0 ? wanted : all) await benches[name]!();
}
