import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { Judge } from './judge-units';

const mostThreads = 4;

/** A thread for each further core. Started before the files are read, it has the analysis at hand by then. */
export const startThreads = (): readonly Judge[] =>
  Array.from({ length: Math.min(availableParallelism(), mostThreads) - 1 }, startThread);

function startThread(): Judge {
  const worker = new Worker(new URL('./judge-worker.mjs', import.meta.url));
  const waiting: ((judged: readonly UnitAssessment[]) => void)[] = [];
  const failed = new Promise<never>((_, reject) => worker.once('error', reject));
  failed.catch(() => {});
  worker.on('message', (judged) => {
    waiting.shift()?.(judged);
    if (waiting.length === 0) worker.unref();
  });
  worker.unref();
  return (task) => {
    worker.ref();
    const judged = new Promise<readonly UnitAssessment[]>((resolve) => waiting.push(resolve));
    worker.postMessage(task);
    return Promise.race([judged, failed]);
  };
}
