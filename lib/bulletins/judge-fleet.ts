import type { CompiledRule } from '@/lib/bulletins/condition';
import { decide } from '@/lib/bulletins/decision-diagram';
import {
  applies,
  doesNot,
  type FactColumn,
  type Tabled,
  type UnitColumns,
  undecided,
} from '@/lib/bulletins/unit-columns';
import type { FactName } from '@/lib/bulletins/unit-facts';

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

/** Decides a unit that several conditions leave open together, once for each combination of facts. */
function jointDecision(rule: CompiledRule, columns: UnitColumns): (unit: number) => number {
  const facts = [...new Set(rule.flat().map(({ fact }) => fact))];
  const byFact = new Map<FactName, FactColumn>(facts.map((fact) => [fact, columns.columnOf(fact)]));
  const decided = new Map<string, number>();
  return (unit) => {
    const key = facts.map((fact) => byFact.get(fact)?.codes[unit]).join();
    const found = decided.get(key);
    if (found !== undefined) return found;
    const { answer } = decide(rule, (fact) => {
      const { codes, distinct } = columns.columnOf(fact);
      return distinct[codes[unit] ?? 0] as (typeof distinct)[number];
    });
    const byte = answer === null ? undecided : answer ? applies : doesNot;
    decided.set(key, byte);
    return byte;
  };
}

/**
 * The answer of one bulletin for every unit: as `appliesToUnit`, without the reasons. A range left
 * open alone, with each of its facts asked once, leaves the unit undecided; only what several
 * conditions leave open together is worked out in full.
 */
export function judgeFleet(rule: CompiledRule, columns: UnitColumns): Uint8Array {
  const tables = rule.map((range) => range.map(columns.tableOf));
  const asksFactTwice = rule.map(
    (range) => new Set(range.map(({ fact }) => fact)).size < range.length,
  );
  const decideJointly = jointDecision(rule, columns);
  const judge = (unit: number): number => {
    let open = 0;
    let isJoint = false;
    for (let range = 0; range < tables.length; range++) {
      const truth = truthOfAll(tables[range] ?? [], unit);
      if (truth === applies) return applies;
      if (truth === doesNot) continue;
      open += 1;
      isJoint ||= asksFactTwice[range] === true;
    }
    if (open === 0) return doesNot;
    return open > 1 || isJoint ? decideJointly(unit) : undecided;
  };
  const answers = new Uint8Array(columns.units.length);
  for (let unit = 0; unit < answers.length; unit++) answers[unit] = judge(unit);
  return answers;
}
