import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { AssessFleetInput } from '@/lib/analysis/assess-fleet';
import { assessUnit } from '@/lib/analysis/assess-unit';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { PressureUnit } from '@/lib/measure';

export interface JudgeTask extends AssessFleetInput {
  readonly fleetBeltRate: number | null;
  readonly pressureUnit: PressureUnit;
}

/** Below this many units a second thread costs more than it saves. */
const worthSharing = 500;
const mostThreads = 4;

export const judgeUnits = (
  { units, ...fleet }: JudgeTask,
  onUnit: (count: number) => void = () => {},
): readonly UnitAssessment[] =>
  units.map((unit, k) => {
    onUnit(k);
    return assessUnit({ ...unit, ...fleet });
  });

/** The same, the units of a large fleet shared out among the cores. */
export async function judgeTogether(
  task: JudgeTask,
  onUnit: (count: number, of: number) => void,
): Promise<readonly UnitAssessment[]> {
  const threads =
    task.units.length < worthSharing ? 1 : Math.min(availableParallelism(), mostThreads);
  const share = Math.ceil(task.units.length / threads);
  const shares = Array.from({ length: threads }, (_, k) => ({
    ...task,
    units: task.units.slice(k * share, (k + 1) * share),
  }));
  const others = shares.slice(1).map(judgeElsewhere);
  const own = judgeUnits(shares[0] ?? task, (count) => onUnit(count, share));
  return [own, ...(await Promise.all(others))].flat();
}

const judgeElsewhere = (task: JudgeTask): Promise<readonly UnitAssessment[]> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./judge-worker.mjs', import.meta.url), { workerData: task });
    worker.once('message', resolve);
    worker.once('error', reject);
  });
