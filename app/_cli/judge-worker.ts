import { parentPort } from 'node:worker_threads';
import { type JudgeTask, judgeUnits } from './judge-units';

parentPort?.on('message', (task: JudgeTask) => parentPort?.postMessage(judgeUnits(task)));
