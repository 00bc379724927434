import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { type Scenario, scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { informedForecasts } from '@/lib/analysis/backtest/informed-forecasts';
import { scoreCauses } from '@/lib/analysis/backtest/score-causes';
import {
  type JudgedSegment,
  type KnownSegment,
  scoreForecasts,
} from '@/lib/analysis/backtest/score-forecasts';
import { simulateFleet } from '@/lib/analysis/backtest/simulate-fleet';
import { achievedTable, causeFiguresOf, figuresOf, withAchieved } from './backtest-achieved';
import { calibrationPlot, leadPlot } from './backtest-plots';
import {
  backtestCsv,
  backtestPage,
  backtestTable,
  datesTable,
  informedPage,
  informedTable,
  type NamedScores,
  recalibratedPage,
} from './backtest-table';
import { judge, judgeRecalibrated, type Learning, priorsOf } from './judge-as-known';
import { type KnownFleet, knownCauses, knownSegments, readKnownFleet } from './read-backtest-fleet';

const usage = `Replay a fleet with known truth as it was known on each day, and score the wear forecast.

  npm run backtest -- --units FILE --fitments FILE --readings FILE --truth FOLDER [options]
  npm run backtest -- --scenario A [--scenario H ...] [options]

  --scenario LETTER   a simulated fleet of lib/analysis/backtest/fleet-scenarios.ts
  --seed NUMBER       of the simulated fleets; 1 otherwise. Several make several fleets, scored together
  --learn HOW         yearly: from what was on record at each new year (the default)
                      folds: from the other two thirds of the units, all years
                      never: the default prior
  --idle-only         leave *lowest* out
  --informed          beside a forecast that knows every law of the simulated fleets; 30 s a fleet
  --recalibrated      beside its own dates recalibrated; with --learn folds alone
  --name TEXT         what to call the fleet in the table
  --out FOLDER        writes figures.md, figures.csv and plots there, with --informed informed.md, with
                      --recalibrated recalibrated.md; prints only, otherwise
  --achieved FILE     puts what was achieved beside what is wanted into that page, between its marks:
                      of the fleet given by files, and of the scenarios as others
`;

const priorFrom: Record<Learning, string> = {
  yearly: 'what was on record at each new year',
  folds: 'the other two thirds of the units',
  never: 'the default',
};

/** Fleets of one kind, each learnt from by itself. */
interface Fleets {
  readonly name: string;
  readonly scenario: Scenario | null;
  readonly fleets: readonly (readonly KnownSegment[])[];
}

interface Options {
  readonly [option: string]: string | boolean | readonly string[] | undefined;
}

async function fleetOfFiles({
  units,
  fitments,
  readings,
  truth,
}: Options): Promise<KnownFleet | null> {
  if (!(units && fitments && readings && truth)) return null;
  return readKnownFleet({
    units: String(units),
    fitments: String(fitments),
    readings: String(readings),
    truth: String(truth),
  });
}

function fleetsOf(given: KnownFleet | null, values: Options): Fleets[] {
  const fleets: Fleets[] = [];
  if (given) {
    fleets.push({
      name: String(values.name ?? 'fleet'),
      scenario: null,
      fleets: [knownSegments(given)],
    });
  }
  const seeds = Array.isArray(values.seed) ? values.seed.map(Number) : [1];
  if (Array.isArray(values.scenario)) {
    for (const letter of values.scenario) {
      const scenario = scenarios[letter];
      if (!scenario) throw new Error(`There is no scenario ${letter}.`);
      fleets.push({
        name: scenario.name,
        scenario,
        fleets: seeds.map((seed) => simulateFleet(scenario, seed)),
      });
    }
  }
  return fleets;
}

const withoutLowest = (segment: KnownSegment): KnownSegment => ({
  ...segment,
  points: segment.points.map(({ day, idleSle }) => ({ day, idleSle })),
});

/** The lowest score that gives no more false alarms than `most`, so that two forecasts can be compared. */
function alarmAt(segments: readonly JudgedSegment[], most: number): number {
  let [low, high] = [0, 1];
  for (let halving = 0; halving < 12; halving++) {
    const middle = (low + high) / 2;
    if ((scoreForecasts(segments, middle).falseAlarmsPer1000Years ?? 0) > most) low = middle;
    else high = middle;
  }
  return high;
}

const { values } = parseArgs({
  options: {
    units: { type: 'string' },
    fitments: { type: 'string' },
    readings: { type: 'string' },
    truth: { type: 'string' },
    scenario: { type: 'string', multiple: true },
    seed: { type: 'string', multiple: true },
    learn: { type: 'string' },
    'idle-only': { type: 'boolean' },
    informed: { type: 'boolean' },
    recalibrated: { type: 'boolean' },
    name: { type: 'string' },
    out: { type: 'string' },
    achieved: { type: 'string' },
    help: { type: 'boolean', short: 'h' },
  },
});
const learning = (['yearly', 'folds', 'never'] as const).find(
  (how) => how === (values.learn ?? 'yearly'),
);
const given = await fleetOfFiles(values);
const fleets = fleetsOf(given, values);
const isAnswerable =
  learning &&
  (!values.recalibrated || learning === 'folds') &&
  (!values.achieved || given !== null);
if (values.help || !isAnswerable || fleets.length === 0) {
  process.stdout.write(usage);
  process.exitCode = values.help ? 0 : 1;
} else {
  const rows: NamedScores[] = [];
  const judged: JudgedSegment[] = [];
  const informed: NamedScores[] = [];
  const recalibrated: NamedScores[] = [];
  for (const { name, scenario, fleets: alike } of fleets) {
    const read = values['idle-only'] ? alike.map((all) => all.map(withoutLowest)) : alike;
    const learnt = read.map((segments) => [segments, priorsOf(segments, learning)] as const);
    const replayed = learnt.flatMap((fleet) => judge(...fleet));
    judged.push(...replayed);
    const scores = scoreForecasts(replayed);
    rows.push({ name, scores });
    if (values.recalibrated) {
      recalibrated.push({ name, scores });
      const again = scoreForecasts(learnt.flatMap((fleet) => judgeRecalibrated(...fleet)));
      recalibrated.push({ name: `${name}, recalibrated`, scores: again });
    }
    if (!values.informed || !scenario) continue;
    const best = alike.flatMap((segments) => informedForecasts(scenario, segments));
    const alarm = alarmAt(best, scores.falseAlarmsPer1000Years ?? 0);
    informed.push({ name: `${name}, all known`, scores: scoreForecasts(best, alarm) });
    informed.push({ name, scores });
  }
  const table = backtestTable(rows, priorFrom[learning]);
  const comparisons = [
    { file: 'informed.md', of: informed, tableOf: informedTable, pageOf: informedPage },
    { file: 'recalibrated.md', of: recalibrated, tableOf: datesTable, pageOf: recalibratedPage },
  ].flatMap(({ file, of, tableOf, pageOf }) => {
    const compared = tableOf(of, priorFrom[learning]);
    return of.length === 0 ? [] : [{ file, compared, page: pageOf(compared) }];
  });
  process.stdout.write([table, ...comparisons.map(({ compared }) => compared)].join('\n'));
  if (values.achieved && given) {
    const [ofGiven, ...others] = rows.map(({ scores }) => figuresOf(scores));
    const ofCauses = causeFiguresOf(scoreCauses(knownCauses(given)));
    const achieved = achievedTable(new Map([...ofGiven!, ...ofCauses]), others);
    const page = readFileSync(values.achieved, 'utf8');
    writeFileSync(values.achieved, withAchieved(page, achieved));
  }
  if (values.out) {
    mkdirSync(values.out, { recursive: true });
    writeFileSync(
      `${values.out}/figures.md`,
      backtestPage(
        table,
        values['idle-only'] ? 'idle alone' : 'idle and lowest',
        values.seed?.length ?? 1,
      ),
    );
    for (const { file, page } of comparisons) writeFileSync(`${values.out}/${file}`, page);
    writeFileSync(`${values.out}/figures.csv`, backtestCsv(rows, priorFrom[learning]));
    writeFileSync(`${values.out}/calibration.svg`, calibrationPlot(judged));
    writeFileSync(`${values.out}/lead.svg`, leadPlot(judged));
  }
}
