import { setImmediate } from 'node:timers/promises';
import type { AssessFleetInput } from '@/lib/analysis/assess-fleet';
import { assessUnit } from '@/lib/analysis/assess-unit';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { PressureUnit } from '@/lib/measure';

export interface JudgeTask extends AssessFleetInput {
  readonly fleetBeltRate: number | null;
  readonly pressureUnit: PressureUnit;
}

export type Judge = (task: JudgeTask) => Promise<readonly UnitAssessment[]>;

export const judgeUnits = ({ units, ...fleet }: JudgeTask): readonly UnitAssessment[] =>
  units.map((unit) => assessUnit({ ...unit, ...fleet }));

const unitsAtOnce = 100;

/** The same, shared out a hundred units at a time between this thread and others. */
export async function judgeTogether(
  task: JudgeTask,
  others: readonly Judge[],
  onJudged: (count: number) => void,
): Promise<readonly UnitAssessment[]> {
  const parts: (readonly UnitAssessment[])[] = [];
  let next = 0;
  let count = 0;
  const work = async (judge: Judge) => {
    while (next * unitsAtOnce < task.units.length) {
      const part = next++;
      const units = task.units.slice(part * unitsAtOnce, (part + 1) * unitsAtOnce);
      parts[part] = await judge({ ...task, units });
      count += units.length;
      onJudged(count);
    }
  };
  // Another thread has its next part at hand while this one is too busy to give it one.
  await Promise.all([...others, ...others, judgeHere].map(work));
  return parts.flat();
}

/** Hears from the other threads between one part and the next. */
const judgeHere: Judge = async (task) => {
  await setImmediate();
  return judgeUnits(task);
};
