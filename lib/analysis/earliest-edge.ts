import type { BeltForecast } from '@/lib/analysis/assessment';
import { type FirstPassage, marks, type Reason } from '@/lib/analysis/assessment';
import type { BulletinDue, EdgeCause } from '@/lib/analysis/unit-assessment';
import type { DayNumber } from '@/lib/measure';

export interface Edge {
  readonly on: DayNumber;
  readonly cause: EdgeCause;
}

/** A forecast is not a limit passed: its own early edge says when. */
const forecastRules: ReadonlySet<string> = new Set(['wear score', 'belt due', 'bulletin due']);

/**
 * The earliest day that any cause may need the bay: the day a limit was passed, or the early edge of
 * the 80% interval of a forecast. Null when nothing has a date.
 */
export function earliestEdge(found: {
  readonly reasons: readonly Reason[];
  readonly stop: FirstPassage;
  readonly wear: FirstPassage;
  readonly belt: BeltForecast;
  readonly bulletins: readonly BulletinDue[];
  readonly asOf: DayNumber;
}): Edge | null {
  const passed = found.reasons
    .filter(({ mark, rule }) => marks.indexOf(mark) <= 1 && !forecastRules.has(rule))
    .map(({ on }): Edge => ({ on: on ?? found.asOf, cause: 'limit passed' }));
  const dated: readonly [DayNumber | null, EdgeCause][] = [
    [found.stop.earliest80, 'stop'],
    [found.wear.earliest80, 'wear'],
    [found.belt.earliest80 ?? found.belt.due, 'belt'],
    ...found.bulletins.map(({ dueOn }): [DayNumber | null, EdgeCause] => [dueOn, 'bulletin']),
  ];
  const edges = [
    ...passed,
    ...dated.flatMap(([on, cause]) => (on === null ? [] : [{ on, cause }])),
  ];
  return edges.reduce<Edge | null>(
    (first, edge) => (first && first.on <= edge.on ? first : edge),
    null,
  );
}
