import { benchAssess } from './assess';
import { benchBulletins } from './bulletins';
import { benchPlanning } from './planning';
import { benchStatistics } from './statistics';
import { benchWear } from './wear';

const benches: Record<string, () => void | Promise<void>> = {
  statistics: benchStatistics,
  assess: benchAssess,
  bulletins: benchBulletins,
  planning: () => benchPlanning(),
  wear: benchWear,
};

const wanted = process.argv.slice(2);
const unknown = wanted.filter((name) => !(name in benches));
if (unknown.length > 0) {
  console.error(`No bench ${unknown.join(', ')}; there are ${Object.keys(benches).join(', ')}.`);
  process.exitCode = 1;
} else {
  for (const name of wanted.length > 0 ? wanted : Object.keys(benches)) await benches[name]!();
}
