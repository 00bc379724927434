import { appliesToUnit, judgeCompiled } from '@/lib/bulletins/applies-to-unit';
import { buildDateFromIso } from '@/lib/bulletins/build-date';
import { buildRanges } from '@/lib/bulletins/build-ranges';
import { compileRule } from '@/lib/bulletins/condition';
import { judgeFleet } from '@/lib/bulletins/judge-fleet';
import type { RangeRule, Rule } from '@/lib/bulletins/rule';
import { type UnitColumns, unitColumns } from '@/lib/bulletins/unit-columns';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { expectedCheckCharacter } from '@/lib/bulletins/vin-check-digit';
import { dayFromIso, isoFromDay } from '@/lib/calendar';

const fleetSize = 50_000;
const bulletinCount = 200;
const plainUnits = 250;
const asOf = dayFromIso('2025-11-25') ?? 0;
const firstBuilt = dayFromIso('2012-01-01') ?? 0;

export function chanceFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return state / 4294967296;
  };
}

const pick = <Value>(values: readonly Value[], chance: () => number): Value =>
  values[Math.floor(chance() * values.length)] as Value;

const makes = ['Alder', 'Birch', 'Cedar'];
const models = makes.flatMap((make) => [1, 2, 3, 4].map((line) => `${make} ${line}`));
const week = (chance: () => number) =>
  `${13 + Math.floor(chance() * 12)}${String(1 + Math.floor(chance() * 52)).padStart(2, '0')}`;

/** Invented units; a tenth of the build dates, engines and pump codes are missing, half give a month. */
export function inventFleet(chance: () => number): BulletinFacts[] {
  const orNull = <Value>(value: Value) => (chance() < 0.1 ? null : value);
  return Array.from({ length: fleetSize }, (_, index) => {
    const model = pick(models, chance);
    const builtOn = isoFromDay(firstBuilt + Math.floor(chance() * 5000));
    const yearCode = 'CDEFGHJKLMNPRSTV'[Number(builtOn.slice(0, 4)) - 2012] ?? 'C';
    const tail = `${yearCode}${pick(['R', 'S', 'T'], chance)}${String(index % 1e6).padStart(6, '0')}`;
    const check = expectedCheckCharacter(`ZZ9FA1B20${tail}`);
    return {
      unit: String(index),
      vin: `ZZ9FA1B2${check}${tail}`,
      isCheckDigitRequired: true,
      gvwrKg: 3200,
      make: model.split(' ')[0] ?? null,
      model,
      modelYear: null,
      engine: orNull(pick(['D4', 'D6', 'G6'], chance)),
      built: orNull(buildDateFromIso(chance() < 0.5 ? builtOn : builtOn.slice(0, 7))),
      fitted: [
        {
          part: 'pump' as const,
          revision: orNull(pick(['A', 'B', 'C', 'D'], chance)),
          dateCode: orNull(week(chance)),
        },
      ],
      odometer: { value: Math.floor(chance() * 300_000), readOn: asOf },
      newest: {
        readOn: asOf,
        line: pick(['dry', 'film', 'wet', 'not seen'] as const, chance),
        recovery: chance() * 30,
        idle: 60 + chance() * 35,
        lowest: 20 + chance() * 60,
      },
    };
  });
}

function inventRange(chance: () => number): RangeRule {
  const from = firstBuilt + Math.floor(chance() * 4500);
  const built = {
    from: isoFromDay(from).slice(0, 7),
    to: isoFromDay(from + Math.floor(chance() * 900)),
  };
  const further: RangeRule = pick(
    [
      {},
      { engine: [pick(['D4', 'D6'], chance)] },
      { plant: ['R', 'S'] },
      { vinSequence: { from: '0', to: String(Math.floor(chance() * 1000)) } },
      { fitted: [{ part: 'pump', fact: 'revision', is: 'not in', values: ['C', 'D'] }] },
      { fitted: [{ part: 'pump', fact: 'date code', is: 'up to', value: week(chance) }] },
      { odometer: { from: 80_000 } },
      { symptom: { line: ['film', 'wet'], recoverySlowerThan: 15 } },
    ],
    chance,
  );
  return { model: [pick(models, chance), pick(models, chance)], built, ...further };
}

export function inventBulletins(chance: () => number): { id: string; rule: Rule }[] {
  return Array.from({ length: bulletinCount }, (_, index) => ({
    id: `SB-${index}`,
    rule: {
      anyOf: Array.from({ length: 1 + Math.floor(chance() * 3) }, () => inventRange(chance)),
    },
  }));
}

/** Time on the processor, not on the clock: other work shares the cores. */
function milliseconds(work: () => void): number {
  const start = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
}

const bestOf = (times: number, work: () => void): number =>
  Math.min(...Array.from({ length: times }, () => milliseconds(work)));

/** Prints the matrix of 50,000 units and 200 bulletins, one new bulletin, and the plain way beside. */
export function benchBulletins(): void {
  const chance = chanceFrom(20251125);
  const units = inventFleet(chance);
  const bulletins = inventBulletins(chance);
  const few = units.slice(0, plainUnits);

  // What one would write first: every unit, every bulletin, the rule read afresh.
  let plainAnswers: string[] = [];
  const plain = milliseconds(() => {
    plainAnswers = few.flatMap((unit) =>
      bulletins.map(({ rule }) => appliesToUnit(rule, unit, asOf).answer),
    );
  });
  const rules = bulletins.map(({ rule }) => compileRule(rule, asOf));
  const compiled = milliseconds(() => {
    for (const unit of few) for (const rule of rules) judgeCompiled(rule, unit);
  });

  const answers = rules.map((rule) => judgeFleet(rule, unitColumns(few)));
  const agree = plainAnswers.every((answer, index) => {
    const byte = answers[index % bulletinCount]?.[Math.floor(index / bulletinCount)] ?? 0;
    return answer === ['does not', 'applies', 'undecided'][byte];
  });
  if (!agree) throw new Error('the index and the nested loop disagree');
  const undecided = plainAnswers.filter((answer) => answer === 'undecided').length;

  const scale = fleetSize / plainUnits;
  let rows = 0;
  const answerAll = (some: typeof rules, columns: UnitColumns) => {
    for (const rule of some) judgeFleet(rule, columns);
    return buildRanges(some, columns).length;
  };
  const matrix = bestOf(3, () => {
    rows = answerAll(rules, unitColumns(units));
  });
  const oneByOne = rules.slice(0, 20).map((rule) =>
    milliseconds(() => {
      answerAll([rule], unitColumns(units));
    }),
  );
  const columns = unitColumns(units);
  answerAll(rules, columns);
  const kept = rules.slice(0, 20).map((rule) => milliseconds(() => judgeFleet(rule, columns)));

  const seconds = (ms: number) => `${(ms / 1000).toFixed(2)} s`;
  const spread = (times: readonly number[]) => {
    const sorted = times.toSorted((one, other) => one - other);
    const [middle, last] = [sorted[sorted.length >> 1] ?? 0, sorted.at(-1) ?? 0];
    return `${middle.toFixed(0)} ms, at worst ${last.toFixed(0)} ms`;
  };
  console.log(
    `Bulletins: ${fleetSize} units x ${bulletinCount} bulletins, ${rows} build ranges, one core`,
  );
  console.log(
    `  undecided share                     ${((100 * undecided) / plainAnswers.length).toFixed(1)}%`,
  );
  console.log(`  matrix, indexed                     ${seconds(matrix)} (best of 3; asked: 5 s)`);
  console.log(`  one new bulletin, nothing kept      ${spread(oneByOne)} (of 20; asked: 300 ms)`);
  console.log(`  one new bulletin, columns kept      ${spread(kept)} (of 20)`);
  console.log(
    `  nested loop, rules compiled once    ${seconds(compiled * scale)} (from ${plainUnits} units)`,
  );
  console.log(
    `  nested loop, plain                  ${seconds(plain * scale)} (from ${plainUnits} units)`,
  );
}
