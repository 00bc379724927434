import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { KeptReading } from '@/app/_offline/kept-reading';
import { sendReading } from '@/app/_offline/send-reading';
import type { Draft } from '@/lib/bay-card/draft';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { hasTestServer } from '../../support/databases';
import { type FaultyNetwork, faultyNetwork } from '../../support/faulty-network';
import { type ServedTechnician, serveTechnician } from '../../support/served-technician';
import { atScale, found } from '../scale';

const faultsWanted = atScale(120, 1_000);
const devices = 6;
if (!hasTestServer) console.warn('a bad network: not run, since TEST_DATABASE_URL is not set');

const kept = (payload: ReadingPayload): KeptReading => ({
  id: payload.id,
  unitId: payload.unitId,
  signerName: payload.signedBy,
  payload,
  draft: {} as Draft,
  judged: null,
  heardOn: null,
  state: 'waiting',
  refusal: null,
  answer: null,
});

describe.skipIf(!hasTestServer)('a network that drops, delays, reorders, cuts and lies', () => {
  let served: ServedTechnician;
  let network: FaultyNetwork;
  beforeAll(async () => {
    served = await serveTechnician();
    network = await faultyNetwork(served.product.origin, 1);
    const cookie = [...served.visitor.cookies]
      .map(([name, value]) => `${name}=${value}`)
      .join('; ');
    const plainFetch = fetch;
    vi.stubGlobal('fetch', (path: string, init: RequestInit) =>
      plainFetch(network.origin + path, {
        ...init,
        headers: { ...init.headers, cookie, origin: served.product.origin },
      }),
    );
  });
  afterAll(async () => {
    vi.unstubAllGlobals();
    await network?.close();
    await served?.close();
  });

  it(`${faultsWanted} faults: every reading ends on record, once`, {
    timeout: faultsWanted * 3_000,
  }, async () => {
    const faults = () => Object.values(network.done).reduce((sum, count) => sum + count, 0);
    const sent: string[] = [];
    let tries = 0;
    let step = 0;
    // The device's own way: one at a time, each until the server says that it is on record.
    const device = async (unitId: string) => {
      while (faults() < faultsWanted) {
        let reading = kept(served.payload(unitId, step++));
        sent.push(reading.id);
        while (reading.state !== 'on record') {
          tries++;
          const answer = await sendReading(reading);
          if (answer === 'sign in again') throw new Error('the session did not last');
          if (answer !== 'no signal') reading = answer;
          if (reading.state === 'refused') throw new Error(JSON.stringify(reading.refusal));
        }
      }
    };
    await Promise.all(served.unitIds.slice(0, devices).map(device));
    expect(Object.values(network.done).every((count) => count > 0)).toBe(true);
    expect((await served.stored(sent)).toSorted()).toEqual(sent.toSorted());
    expect(await served.ledgerFaults()).toEqual([]);
    found(
      'Network',
      `${faults()} faults over ${tries} tries, ${sent.length} readings, 0 lost, 0 doubled`,
    );
  });
});
