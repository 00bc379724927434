import { execFileSync } from 'node:child_process';
import { chmodSync, mkdtempSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type OpenDatabase, openDatabase } from '@/db/client';
import { checkLedger } from '@/db/ledger';
import { reading } from '@/db/schema';
import { isOutOfReach } from '@/db/transaction';
import { recordReading } from '@/db/writes/record-reading';
import { postgresPrograms, startCluster } from '../support/postgres-cluster.mjs';
import { soundPayload } from '../support/sound-payload';
import { makeFixture } from '../support/tarn-fixture';
import { found } from './scale';

const now = new Date('2026-06-01T15:00:00Z');

/** A file system of its own, small enough to fill; null where this account may mount none. */
function smallDisk(): string | null {
  const folder = mkdtempSync(join(tmpdir(), 'idlemark-disk-'));
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=160m,mode=0777', 'tmpfs', folder], {
      stdio: 'ignore',
    });
    chmodSync(folder, 0o777);
    return folder;
  } catch {
    rmSync(folder, { recursive: true });
    return null;
  }
}

const disk = postgresPrograms() === null ? null : smallDisk();
if (!disk)
  console.warn(
    'disk full: not run, since no PostgreSQL is installed or no disk may be mounted here',
  );

describe.skipIf(!disk)('a disk that is full', () => {
  const folder = disk ?? '';
  const filler = join(folder, 'filler');
  let cluster: Awaited<ReturnType<typeof startCluster>>;
  let open: OpenDatabase;
  beforeAll(async () => {
    cluster = await startCluster({
      within: folder,
      settings: ['max_wal_size=32MB', 'min_wal_size=32MB', 'shared_buffers=16MB'],
    });
    open = await openDatabase({ url: cluster.url });
  });
  afterAll(async () => {
    await open?.close();
    await cluster?.stop();
    execFileSync('umount', [folder]);
    rmSync(folder, { recursive: true });
  });

  it('refuses clearly, stores nothing by halves, and takes up again unaided', async () => {
    const fixture = await makeFixture(open.db, 20);
    const actor = await fixture.person('technician');
    const acknowledged: string[] = [];
    const refused: unknown[] = [];
    const write = async (step: number) => {
      const unitId = fixture.unitIds[step % 20] ?? '';
      const payload = soundPayload(unitId, actor.personId, Math.floor(step / 20) % 100);
      const answer = await recordReading(open.db, { actor, payload, now }).catch((error) => {
        refused.push(error);
        return null;
      });
      if (answer?.ok) acknowledged.push(payload.id);
      else if (answer) throw new Error(JSON.stringify(answer.error));
    };

    let step = 0;
    while (step < 40) await write(step++);
    const { bavail, bsize } = statfsSync(folder);
    writeFileSync(filler, Buffer.alloc(Math.max(0, bavail * bsize - 64 * 1024)));
    while (refused.length < 5 && step < 4_000) await write(step++);
    expect(refused.length).toBeGreaterThanOrEqual(5);
    expect(refused.filter((error) => !isOutOfReach(error))).toEqual([]);

    rmSync(filler);
    const freed = performance.now();
    const before = acknowledged.length;
    await expect
      .poll(
        async () => {
          await write(step++);
          return acknowledged.length;
        },
        { timeout: 30_000, interval: 200 },
      )
      .toBeGreaterThan(before);
    const recoveredAfter = performance.now() - freed;

    const stored = (await open.db.select({ id: reading.id }).from(reading)).map(({ id }) => id);
    expect(stored.toSorted()).toEqual(acknowledged.toSorted());
    expect((await checkLedger(open.db)).faults).toEqual([]);
    found(
      'Disk full',
      `${refused.length} refused clearly, ${acknowledged.length} acknowledged all there, 0 by halves, recovered in ${(recoveredAfter / 1000).toFixed(1)} s`,
    );
  });
});
