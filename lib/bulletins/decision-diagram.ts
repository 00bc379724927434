import type { Condition } from '@/lib/bulletins/condition';
import type { FactValue, Possible } from '@/lib/bulletins/possible';
import { representatives } from '@/lib/bulletins/representatives';
import type { FactName } from '@/lib/bulletins/unit-facts';

export interface Decision {
  /** Null where the answer truly depends on the facts listed. */
  readonly answer: boolean | null;
  /** The facts, and only those, on which the answer depends. */
  readonly facts: readonly FactName[];
}

const no = 0;
const yes = 1;

/** Possible values of a fact that some condition of the ranges tells apart. */
function distinguished(
  fact: FactName,
  possible: Possible,
  conditions: readonly Condition[],
): FactValue[] {
  const byAnswers = new Map<string, FactValue>();
  for (const value of representatives(possible, fact, conditions)) {
    byAnswers.set(conditions.map((condition) => Number(condition.holds(value))).join(''), value);
  }
  return [...byAnswers.values()];
}

/**
 * Decides "any range has all of its conditions" over every combination of what the facts may be.
 * Two ranges that between them leave no gap decide a unit that neither decides alone, which
 * three-valued tables cannot see: a month of building cut in two by adjoining ranges.
 *
 * Method: reduced ordered decision diagram (Bryant 1986, from memory) with one branch for each
 * distinguishable value; equal subdiagrams are shared, so the diagram tests a fact exactly when the
 * answer depends on it. The facts are taken as independent of each other.
 */
export function decide(
  ranges: readonly (readonly Condition[])[],
  possibleOf: (fact: FactName) => Possible,
): Decision {
  const facts = [...new Set(ranges.flat().map(({ fact }) => fact))];
  const tests = facts.map((fact) =>
    ranges.map((range) => range.filter((condition) => condition.fact === fact)),
  );
  const values = facts.map((fact, depth) =>
    distinguished(fact, possibleOf(fact), tests[depth]?.flat() ?? []),
  );
  const lastTest = ranges.map((_, range) =>
    tests.findLastIndex((byRange) => (byRange[range]?.length ?? 0) > 0),
  );
  const nodeByKey = new Map<string, number>();
  const factOfNode: number[] = [no, yes];
  const nodeByState = new Map<string, number>();

  const build = (depth: number, live: readonly number[]): number => {
    if (live.length === 0) return no;
    if (live.some((range) => (lastTest[range] ?? -1) < depth)) return yes;
    const state = `${depth}:${live.join()}`;
    const found = nodeByState.get(state);
    if (found !== undefined) return found;
    const children = (values[depth] ?? []).map((value) =>
      build(
        depth + 1,
        live.filter((range) => tests[depth]?.[range]?.every((test) => test.holds(value))),
      ),
    );
    const [first = no] = children;
    let node = first;
    if (children.some((child) => child !== first)) {
      const key = `${depth}:${children.join()}`;
      node = nodeByKey.get(key) ?? factOfNode.push(depth) - 1;
      nodeByKey.set(key, node);
    }
    nodeByState.set(state, node);
    return node;
  };

  const root = build(
    0,
    ranges.map((_, range) => range),
  );
  if (root <= yes) return { answer: root === yes, facts: [] };
  return { answer: null, facts: facts.filter((_, depth) => factOfNode.indexOf(depth, 2) >= 0) };
}
