import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { hasTestServer } from '../../support/databases';
import { type ServedTechnician, serveTechnician } from '../../support/served-technician';
import { atScale, found } from '../scale';

const rounds = atScale(2, 500);
const writers = 6;
if (!hasTestServer)
  console.warn('kill -9 of the application: not run, since TEST_DATABASE_URL is not set');

describe.skipIf(!hasTestServer)('the application killed while it writes', () => {
  let served: ServedTechnician;
  beforeAll(async () => {
    served = await serveTechnician();
  });
  afterAll(() => served?.close());

  it(`${rounds} times: what was acknowledged is there, what was not can be sent again`, {
    timeout: rounds * 30_000,
  }, async () => {
    const { product, visitor } = served;
    const units = served.unitIds.slice(0, writers);
    const sent: string[] = [];
    const acknowledged = new Set<string>();
    let step = 0;

    /** 201 or 200: on record; null where no answer came. Any other answer is a defect. */
    const send = async (payload: ReadingPayload): Promise<boolean> => {
      const answer = await visitor
        .post('/api/v1/readings', JSON.stringify(payload))
        .catch(() => null);
      if (!answer) return false;
      if (!answer.ok) throw new Error(`${answer.status} ${await answer.text()}`);
      const body = await answer.json().catch(() => null);
      if (body?.readingId !== payload.id) return false;
      acknowledged.add(payload.id);
      return true;
    };

    for (let round = 0; round < rounds; round++) {
      let isDown = false;
      const unanswered: ReadingPayload[] = [];
      const write = async (unitId: string) => {
        while (!isDown) {
          const payload = served.payload(unitId, step++);
          sent.push(payload.id);
          if (!(await send(payload))) unanswered.push(payload);
        }
      };
      const before = acknowledged.size;
      const work = units.map(write);
      await expect
        .poll(() => acknowledged.size - before, { timeout: 60_000 })
        .toBeGreaterThanOrEqual(writers);
      await new Promise((resolve) => setTimeout(resolve, (37 * round) % 400));
      isDown = true;
      await product.kill();
      await Promise.all(work);
      await product.start();
      for (const payload of unanswered) expect(await send(payload)).toBe(true);
    }
    expect(acknowledged).toEqual(new Set(sent));
    expect((await served.stored(sent)).toSorted()).toEqual(sent.toSorted());
    expect(await served.ledgerFaults()).toEqual([]);
    found(
      'kill -9 of the application, mid-write',
      `${rounds} rounds, ${acknowledged.size} acknowledged, 0 lost, 0 doubled`,
    );
  });
});
