import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { theilSen } from '@/lib/statistics';
import { hasTestServer } from '../../support/databases';
import { type ServedTechnician, serveTechnician } from '../../support/served-technician';
import { found, isLong } from '../scale';

const minutes = 30;
const warmUpMinutes = 8;
const isRun = hasTestServer && isLong;
if (!isRun)
  console.warn(`soak: not run, since it takes ${minutes} minutes: npm run faults -- --long`);

const residentMegabytes = (pid: number): number =>
  Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1]) / 1024;

/** Longer than the product keeps idle connections, its callers' (5 s) and the database's (10 s). */
const idleMs = 13_000;

/** What the product still holds with nobody asking and its garbage collected, megabytes. */
async function liveMegabytes(pid: number, file: string): Promise<number> {
  await new Promise((next) => setTimeout(next, idleMs));
  const notes = () => (existsSync(file) ? readFileSync(file, 'utf8').trim().split('\n') : []);
  const before = notes().length;
  process.kill(pid, 'SIGUSR2');
  await expect.poll(() => notes().length, { timeout: 60_000 }).toBeGreaterThan(before);
  return Number(notes().at(-1));
}

describe.skipIf(!isRun)('half an hour under steady load', () => {
  const folder = mkdtempSync(join(tmpdir(), 'idlemark-soak-'));
  const memoryFile = join(folder, 'live');
  let served: ServedTechnician;
  beforeAll(async () => {
    served = await serveTechnician(24, {
      NODE_OPTIONS: `--require ${resolve('tests/support/collect-on-signal.cjs')}`,
      LIVE_MEMORY_FILE: memoryFile,
    });
  });
  afterAll(async () => {
    await served?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('takes no more memory at the end than the bound allows', {
    timeout: (minutes + 5) * 60_000,
  }, async () => {
    const { product, visitor, unitIds } = served;
    const hours: number[] = [];
    const megabytes: number[] = [];
    const began = performance.now();
    const since = () => (performance.now() - began) / 60_000;
    let requests = 0;
    for (let step = 0; since() < minutes; step++) {
      const unit = unitIds[step % unitIds.length] ?? '';
      const answers = [
        await visitor.post('/api/v1/readings', JSON.stringify(served.payload(unit, step))),
        await visitor.get(`/units/${unit}`),
        await visitor.get('/api/v1/bay'),
      ];
      for (const answer of answers) {
        await answer.arrayBuffer();
        if (answer.status === 429) await new Promise((next) => setTimeout(next, 1_000));
        else expect(answer.status).toBeLessThan(300);
      }
      requests += answers.length;
      if (since() > warmUpMinutes + megabytes.length) {
        // The page rendered last stays held, and a unit's sheet grows with its readings: this one does not.
        await (await visitor.get('/account')).arrayBuffer();
        hours.push(since() / 60);
        megabytes.push(await liveMegabytes(product.pid(), memoryFile));
      }
      await new Promise((next) => setTimeout(next, 300));
    }
    const trend = theilSen(hours, megabytes, 0.95);
    if (trend.slope === null) throw new Error(`no slope: ${trend.whyNone}`);
    found(
      'Soak',
      `${minutes} min, ${requests} requests, memory in use after collecting ${megabytes[0]?.toFixed(1)} to ${megabytes.at(-1)?.toFixed(1)} MB, slope ${trend.slope.toFixed(1)} MB an hour; resident ${residentMegabytes(product.pid()).toFixed(0)} MB at the end`,
    );
    expect(trend.slope).toBeLessThanOrEqual(1);
  });
});
