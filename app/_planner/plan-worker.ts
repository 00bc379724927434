import { parentPort, workerData } from 'node:worker_threads';
import { highsSolver } from './highs-solver';
import { type PlanTask, planAnswer } from './plan-task';

parentPort?.postMessage(planAnswer(workerData as PlanTask, await highsSolver()));
