import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { judgeOnDevice } from '@/lib/bay-card/judge-on-device';
import type { BaySnapshot, BayUnit } from '@/lib/bay-card/snapshot';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { axeFinds } from '../support/axe-finds';
import { holdingUnit, onAPhone, pick, readUnit, screens } from '../support/bay-phone';
import { BayThumb } from '../support/bay-thumb';
import { launchChromium, signIn } from '../support/chromium';
import { readingWith } from '../support/sound-payload';
import { signedInAs } from '../support/visitor';

const origin = inject('origin');
let browser: Browser;

beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser?.close());

/** Answers of the server to readings sent from any page of a device. */
function answersTo(context: BrowserContext): number[] {
  const answers: number[] = [];
  context.on('response', (response) => {
    if (response.request().method() === 'POST' && response.url().endsWith('/api/v1/readings')) {
      answers.push(response.status());
    }
  });
  return answers;
}

/** Puts readings among the kept, as the card would have done one by one. */
const keepOnDevice = (page: Page, snapshot: BaySnapshot, payloads: readonly ReadingPayload[]) =>
  page.evaluate(
    ([kept]) =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('idlemark-bay');
        opening.onsuccess = () => {
          const change = opening.result.transaction('outbox', 'readwrite');
          for (const one of kept) change.objectStore('outbox').put(one);
          change.oncomplete = () => resolve();
          change.onerror = () => reject(change.error);
        };
        opening.onerror = () => reject(opening.error);
      }),
    [
      payloads.map((payload) => ({
        id: payload.id,
        unitId: payload.unitId,
        signerName: snapshot.person.name,
        payload,
        draft: {},
        judged: null,
        heardOn: null,
        state: 'waiting',
        refusal: null,
        answer: null,
      })),
    ] as const,
  );

const waiting = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<number>((resolve, reject) => {
        const opening = indexedDB.open('idlemark-bay');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const all = opening.result.transaction('outbox').objectStore('outbox').getAll();
          all.onsuccess = () =>
            resolve(all.result.filter(({ state }) => state !== 'on record').length);
        };
      }),
  );

describe('the outbox', () => {
  it('drains 200 readings of 14 days after they were taken, each once', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const units = snapshot.units.filter(({ mark, proof }) => mark === 'Holding' && proof === null);
    const now = Date.now();
    const payloads = Array.from({ length: 200 }, (_, index) => {
      const unit = units[index % units.length] as BayUnit;
      return readingWith({
        unitId: unit.id,
        signedBy: snapshot.person.id,
        readAt: new Date(now - 14 * 86_400_000 + index * 6_000_000).toISOString(),
        couldNot: { idle: 'no gauge here', odometer: 'ran out of time' },
      });
    });
    await context.setOffline(true);
    await page.reload();
    await page.getByText('Which unit?').waitFor();
    await keepOnDevice(page, snapshot, payloads);
    await page.reload();
    await page.getByText('200 kept here, not sent.').waitFor();
    expect(await screens(page)).toBeLessThanOrEqual(0);
    const answers = answersTo(context);
    const began = Date.now();
    await context.setOffline(false);
    await expect.poll(() => answers.length, { timeout: 60_000 }).toBeGreaterThan(0);
    await expect.poll(() => waiting(page), { timeout: 280_000 }).toBe(0);
    console.log(
      `200 readings on record ${((Date.now() - began) / 1000).toFixed(1)} s after signal`,
    );
    expect(answers).toHaveLength(200);
    expect(new Set(answers)).toEqual(new Set([201]));
    await context.close();
  }, 330_000);

  it('drains what an older build kept, and loses nothing that a newer one made', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const { id: unitId } = holdingUnit(snapshot, 11);
    const couldNot = { idle: 'no gauge here' } as const;
    const mine = { unitId, signedBy: snapshot.person.id, couldNot };
    const older = readingWith(mine);
    const newer = { ...readingWith(mine), version: 2 } as unknown as ReadingPayload;
    await keepOnDevice(page, snapshot, [older, newer]);
    await page.reload();
    await page.getByText('1 kept here, not sent.').waitFor();
    await new BayThumb(page).tap('Kept here');
    await page.getByText(/^On record, entry \d+\.$/).waitFor();
    await page.getByText(/^The reading cannot be taken as it is/).waitFor();
    await page.getByRole('button', { name: 'Mend it' }).waitFor();
    expect(await axeFinds(page)).toEqual([]);
    const desk = await signedInAs(origin, 'rhea');
    const csv = await (await desk.get(`/api/v1/units/${unitId}/readings`)).text();
    expect(csv).toContain(older.readAt);
    expect(await waiting(page)).toBe(1);
    await context.close();
  });

  it('refuses a full device before the first step, and loses no step that it cannot keep', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const unit = holdingUnit(snapshot, 8);
    const thumb = new BayThumb(page);
    await page.evaluate(() => {
      navigator.storage.estimate = async () => ({ quota: 100, usage: 100 });
    });
    await pick(thumb, unit.id);
    await page.getByText(/^This device is full and could keep no reading/).waitFor();
    await page.evaluate(() => {
      navigator.storage.estimate = async () => ({ quota: 1e9, usage: 0 });
    });
    await thumb.tap(`Read ${unit.id}`);
    await thumb.sees('Before you start');
    await page.evaluate(() => {
      const { put } = IDBObjectStore.prototype;
      IDBObjectStore.prototype.put = () => {
        IDBObjectStore.prototype.put = put;
        throw new DOMException('full', 'QuotaExceededError');
      };
    });
    await thumb.tap('All done');
    await page.getByText('This device could not keep that step.', { exact: false }).waitFor();
    await thumb.sees('Before you start');
    await thumb.tap('All done');
    await thumb.sees(/^Look inside/);

    // Another tab goes on with the same reading, and neither brings back what the other has left.
    const other = await context.newPage();
    await other.goto(`${origin}/bay`);
    const otherThumb = new BayThumb(other);
    await otherThumb.sees(/^Look inside/);
    await otherThumb.tap(/^Dry/);
    await thumb.sees('Fit the gauge');
    for (const _ of ['gauge', 'line', 'cautions']) await thumb.tap('Back');
    await otherThumb.sees('Which unit?');
    await context.close();
  });

  it('on a shared tablet keeps the signer of each reading, whoever signs in to send it', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin, {
      viewport: { width: 820, height: 1180 },
    });
    const unit = holdingUnit(snapshot, 9);
    const thumb = new BayThumb(page);
    await pick(thumb, unit.id);
    await readUnit(thumb, unit.odometer);
    await context.clearCookies();
    await signIn(page, origin, 'ode', '/bay');
    await page.getByText(/^Signed as Tal .*, who began it\. Signed in: Ode /).waitFor();
    await context.clearCookies();
    await thumb.tap('Put on record');
    await page.getByText('Sign in again and it sends itself.').waitFor();
    await signIn(page, origin, 'ode', '/bay');
    await page.getByText('On record').waitFor();
    const officer = await signedInAs(origin, 'rhea');
    const csv = await (await officer.get(`/api/v1/units/${unit.id}/readings`)).text();
    const { badge } = snapshot.person;
    expect(csv.split('\n').find((line) => line.includes('13.1'))).toContain(badge);
    await context.close();
  });

  it('shows both calls where the desk knew more, once it answers', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const unit = holdingUnit(snapshot, 10);
    const known = snapshot.units.find(({ id }) => id === unit.id) as BayUnit;
    const thumb = new BayThumb(page);
    await context.setOffline(true);
    await pick(thumb, unit.id);
    await readUnit(thumb, unit.odometer);
    await thumb.tap('Put on record');
    await page.getByText('Kept on this device.').waitFor();
    // Meanwhile another person finds the pedal hard: the desk stands the unit down.
    const other = await signedInAs(origin, 'rhea');
    const me = (await (await other.get('/api/v1/bay')).json()) as BaySnapshot;
    const hard = readingWith({ unitId: unit.id, signedBy: me.person.id, pedal: 'hard' });
    expect(judgeOnDevice(snapshot, known, [hard], new Date())?.assessment.mark).toBe(
      'Out of service',
    );
    const answer = await other.post('/api/v1/readings', JSON.stringify(hard));
    expect(answer.status).toBe(201);
    await context.setOffline(false);
    await page.getByText(/This device judged Holding\. The desk knew more/).waitFor();
    await page.getByText('Do not drive this unit.').waitFor();
    await context.close();
  });
});
