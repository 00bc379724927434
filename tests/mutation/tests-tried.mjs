import { readdirSync } from 'node:fs';
import { join } from 'node:path';

const folders = [
  'tests/lib/statistics',
  'tests/lib/analysis',
  'tests/lib/ledger',
  'tests/lib/access.test.ts',
  'tests/published',
];

/** Simulations of whole fleets and long sweeps: each would cost more than a hundred others. */
const leftOut = [
  /score-forecasts\.test\.ts#.*scenario/,
  /informed-forecasts\.test\.ts#.*knows the day/,
  /fleet-prior\.test\.ts#.*noisy fleet/,
  /alarm-power\.test\.ts#.*(brings alarms forward|near it no alarm)/,
  /wear-track\.test\.ts#.*no alarm on long/,
  /observed-segment\.test\.ts#.*calls almost no/,
  /gauge-offsets\.test\.ts#.*covers the true offset/,
  /(rejudge-bulletins|with-open-spell)\.test\.ts#.*whatever its history/,
  /assess-unit\.property\.test\.ts#.*wearing unit/,
  /wear-track\.test\.ts#.*beyond the grid (follows|still sees)/,
  /diagnose\.test\.ts#.*(balanced accuracy|one minute|misleads nobody)/,
  /trace\.test\.ts#.*at .* psi/,
  /statistics-charts\.test\.ts#published run-length tables/,
  /planning-packing\.test\.ts/,
];

export const testFiles = () =>
  readdirSync('tests', { recursive: true })
    .map((name) => join('tests', name))
    .filter((name) => name.endsWith('.test.ts') && folders.some((of) => name.startsWith(of)));

export const isLeftOut = (id) => leftOut.some((pattern) => pattern.test(id));
