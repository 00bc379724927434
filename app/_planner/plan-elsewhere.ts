import 'server-only';
import { Worker } from 'node:worker_threads';
import type { PlanAnswer, PlanTask } from './plan-task';

// The bundler loads this module more than once in a process: one turn for all of them.
const key = Symbol.for('idlemark.planner');
const store = globalThis as { [key]?: Promise<unknown> };

/**
 * Asks a thread of the planner's own, so that seconds of search hold up nobody's page. One at a
 * time: whoever asks next waits, and the other cores stay with the requests.
 */
export function planElsewhere<const Task extends PlanTask>(task: Task): Promise<PlanAnswer<Task>> {
  const answer = (store[key] ?? Promise.resolve()).then(() => inThread(task));
  store[key] = answer.catch(() => {});
  return answer as Promise<PlanAnswer<Task>>;
}

const inThread = (task: PlanTask): Promise<unknown> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./plan-worker.ts', import.meta.url), { workerData: task });
    worker.once('message', resolve);
    worker.once('error', reject);
    worker.once('exit', (code) => reject(new Error(`the planner ended with code ${code}`)));
  });
