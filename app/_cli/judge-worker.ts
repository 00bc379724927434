import { parentPort, workerData } from 'node:worker_threads';
import { type JudgeTask, judgeUnits } from './judge-units';

parentPort?.postMessage(judgeUnits(workerData as JudgeTask));
