import type { CompiledRule, Condition } from '@/lib/bulletins/condition';
import { decide } from '@/lib/bulletins/decision-diagram';
import {
  applies,
  doesNot,
  type Tabled,
  type UnitColumns,
  undecided,
} from '@/lib/bulletins/unit-columns';

/** All of the conditions together for one unit: no beats unknown, unknown beats yes. */
export function truthOfAll(conditions: readonly Tabled[], unit: number): number {
  let truth = applies;
  for (const condition of conditions) {
    const answer = condition.answerFor(unit);
    if (answer === doesNot) return doesNot;
    if (answer === undecided) truth = undecided;
  }
  return truth;
}

/**
 * Decides a unit that several conditions leave open together. Units with the same open conditions
 * and the same open facts share one decision.
 */
function jointDecision(rule: CompiledRule, columns: UnitColumns): (unit: number) => number {
  const decided = new Map<string, number>();
  return (unit) => {
    const answersOf = (range: readonly Condition[]) =>
      range.map((condition) => columns.tableOf(condition).answerFor(unit));
    const open = rule.map((range) => {
      const answers = answersOf(range);
      const isClosed = answers.includes(doesNot);
      return isClosed ? null : range.filter((_, index) => answers[index] === undecided);
    });
    const codeOf = ({ fact }: Condition) => columns.columnOf(fact).codeOf(unit);
    const key = open.map((range) => range?.map(codeOf).join() ?? 'closed').join(';');
    const found = decided.get(key);
    if (found !== undefined) return found;
    const { answer } = decide(
      open.filter((range) => range !== null),
      (fact) => {
        const { codeOf: codeIn, possibleOf } = columns.columnOf(fact);
        return possibleOf(codeIn(unit));
      },
    );
    const byte = answer === null ? undecided : answer ? applies : doesNot;
    decided.set(key, byte);
    return byte;
  };
}

/** Units that the make and model named by a range do not rule out; every unit where it names none. */
function candidatesOf(range: readonly Condition[], columns: UnitColumns): Iterable<number> {
  const named =
    range.find(({ fact }) => fact === 'model') ?? range.find(({ fact }) => fact === 'make');
  return named ? columns.unitsNotRuledOutBy(named) : columns.units.keys();
}

/**
 * The answer of one bulletin for every unit: as `appliesToUnit`, without the reasons. A range left
 * open alone, with each of its facts asked once, leaves the unit undecided; only what several
 * conditions leave open together is worked out in full.
 */
export function judgeFleet(rule: CompiledRule, columns: UnitColumns): Uint8Array {
  const answers = new Uint8Array(columns.units.length);
  const joint = new Set<number>();
  for (const range of rule) {
    const tables = range.map(columns.tableOf);
    const asksFactTwice = new Set(range.map(({ fact }) => fact)).size < range.length;
    for (const unit of candidatesOf(range, columns)) {
      if (answers[unit] === applies) continue;
      const truth = truthOfAll(tables, unit);
      if (truth === doesNot) continue;
      if (truth === undecided && (asksFactTwice || answers[unit] === undecided)) joint.add(unit);
      answers[unit] = truth;
    }
  }
  const decideJointly = jointDecision(rule, columns);
  for (const unit of joint) {
    if (answers[unit] === undecided) answers[unit] = decideJointly(unit);
  }
  return answers;
}
