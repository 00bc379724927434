import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import type { BaySnapshot } from '@/lib/bay-card/snapshot';
import { fromKilometres } from '@/lib/measure';
import { BayThumb, soundReading } from '../support/bay-thumb';
import { launchChromium, openAs, phone } from '../support/chromium';
import { openTestServer } from '../support/databases';
import { serveProduct } from '../support/serve-product';
import { soundPayload } from '../support/sound-payload';
import { signedInAs } from '../support/visitor';

let browser: Browser;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser?.close());

/** Tal's reading in the bay, with the pedal as told; ends on the call. */
async function readInBay(
  origin: string,
  { unitId, odometer, isProof }: { unitId: string; odometer: number; isProof: boolean },
): Promise<Page> {
  const page = await openAs(browser, origin, 'tal', isProof ? '/bay?proof=1' : '/bay', {
    viewport: phone,
  });
  await page.clock.install();
  const thumb = new BayThumb(page);
  await thumb.tap('Key a unit');
  await thumb.key(unitId.replace(/^0+/, ''));
  await thumb.tap(`Read ${unitId}`);
  for (const { on, do: touch } of soundReading(String(odometer))) {
    await thumb.sees(on);
    if (on === 'How was the pedal?' && !isProof) await thumb.tap(/^Went hard/);
    else await touch(thumb);
  }
  await thumb.sees('Check it');
  await thumb.tap('Put on record');
  await page.getByRole('button', { name: 'Next unit' }).waitFor();
  await page.getByText('On record', { exact: true }).waitFor();
  return page;
}

/** A unit of Tal's shed that holds, and its odometer in miles. */
async function unitInUse(origin: string): Promise<{ unitId: string; odometer: number }> {
  const tal = await signedInAs(origin, 'tal');
  const { units } = (await (await tal.get('/api/v1/bay')).json()) as BaySnapshot;
  const unit = units.find(
    ({ mark, proof, expectedIdleSle, shedId }) =>
      shedId === 'river' && mark === 'Holding' && proof === null && (expectedIdleSle ?? 0) > 85,
  );
  if (!unit) throw new Error('the demo has units that hold');
  const last = unit.input.readings.findLast(({ odometer }) => odometer !== null);
  return {
    unitId: unit.id,
    odometer: Math.round(fromKilometres(last?.odometer ?? 50_000, 'mi')) + 40,
  };
}

/** A form that one person was given, sent with the cookies of another. */
async function sendAs(
  origin: string,
  who: string,
  from: string,
  path: string,
  fields: Record<string, string>,
) {
  const given = await (await signedInAs(origin, from)).formOf(path, 'name="whatWasChecked"');
  return (await signedInAs(origin, who)).submit(path, { ...given, ...fields });
}

async function fromBadReadingToRelease(origin: string): Promise<void> {
  const { unitId, odometer } = await unitInUse(origin);
  const board = `/stand-down?unit=${unitId}`;
  const row = (page: Page) => page.getByRole('row').filter({ hasText: unitId }).first();
  const sign = {
    whatWasChecked: 'proof, tag off',
    hasSeen: 'yes',
    password: 'demo-only-not-secret',
  };

  const call = await readInBay(origin, { unitId, odometer, isProof: false });
  await call.getByText('Do not drive this unit.').waitFor();
  await call.context().close();

  const officer = await openAs(browser, origin, 'rhea', board);
  await row(officer)
    .getByText(/went hard by the fourth press/)
    .waitFor();
  await row(officer)
    .getByText(/By reading/)
    .waitFor();
  await row(officer).getByText('No work order yet').waitFor();
  expect(await officer.getByRole('button', { name: /release/ }).count()).toBe(0);

  // The second person mends it: order raised from the board, begun, finished, certified.
  const mender = await openAs(browser, origin, 'ode', board);
  await mender.getByRole('button', { name: 'The tag hangs on the wheel' }).click();
  await mender.getByText(/hung 20/).waitFor();
  await mender.getByRole('link', { name: 'Raise a work order' }).click();
  await mender.getByLabel('Why').fill('Pedal went hard');
  await mender.getByLabel('Replace the vacuum pump').check();
  await mender.getByRole('button', { name: 'Raise the order' }).click();
  await mender.getByRole('button', { name: 'Begin the work' }).click();
  const workOrder = new URL(mender.url()).pathname;
  await mender.getByLabel('Done').check();
  await mender.getByLabel('New pump fitted').check();
  await mender.locator('#revision-pump').fill('C');
  await mender.getByLabel('Cause found').selectOption('pump');
  await officer.reload();
  await row(officer)
    .getByText(/Work order \d+: begun, not finished/)
    .waitFor();
  await mender.getByRole('button', { name: /^Finish/ }).click();
  await mender.getByText('The proof reading is owed.').waitFor();
  await mender.goto(origin + board);
  await mender.getByLabel('I certify').selectOption('repaired');
  await mender.getByLabel('What was done or checked').fill('Pump and gasket; clip tugged');
  await mender.getByRole('button', { name: 'Certify' }).click();
  await mender.getByText('“Pump and gasket; clip tugged”').waitFor();

  // His own reading proves nothing, and nobody may release without a proof.
  const { keyed, ...sound } = soundPayload(unitId, 'ode');
  const { odometer: _, ...measured } = keyed;
  const own = { ...sound, keyed: measured, readAt: new Date().toISOString(), isProof: true };
  const sent = await (await signedInAs(origin, 'ode')).post(
    '/api/v1/readings',
    JSON.stringify(own),
  );
  expect([sent.status, await sent.text()].join(' ')).toMatch(/^20/);
  await officer.reload();
  await row(officer)
    .getByText(/by the certifier's own hand/)
    .waitFor();
  await officer.getByText('The reading cannot serve as proof.').waitFor();

  const proof = await readInBay(origin, { unitId, odometer: odometer + 1, isProof: true });
  await proof.context().close();

  await officer.reload();
  await row(officer).getByText('Proof reading inside limits').waitFor();
  // The mender, the reader and the desk send the releaser's own form: refused each.
  for (const who of ['ode', 'tal', 'ines', 'moro']) {
    const answer = await sendAs(origin, who, 'rhea', board, sign);
    expect({ who, isRefused: [403, 404].includes(answer.status) }).toEqual({
      who,
      isRefused: true,
    });
  }
  await mender.reload();
  await mender.getByText('Your role does not take this step for this unit.').waitFor();

  await officer.getByLabel('What you checked').fill('Proof reading, tag off, clip');
  await officer.getByLabel('I read the proof reading and saw the tag come off').check();
  await officer.getByLabel('Your password, again').fill('not-my-password');
  await officer.getByRole('button', { name: 'Sign in again and release' }).click();
  await officer.getByText('That is not your password.').first().waitFor();
  await officer.getByLabel('Your password, again').fill('demo-only-not-secret');
  await officer.getByRole('button', { name: 'Sign in again and release' }).click();
  await officer.getByText(`Unit ${unitId} is released and on record.`).waitFor();

  const released = officer.getByLabel('Released in the last 30 days');
  const line = released.getByRole('row').filter({ hasText: unitId }).first();
  await line.getByText('Ode Marrit, T-08').waitFor();
  await line.getByText('Rhea Solt, S-01').waitFor();
  await line.getByText('Proving').waitFor();
  await officer.goto(
    `${origin}/ledger?unit=${unitId}&kind=${encodeURIComponent('released to service')}`,
  );
  await officer.getByText(/, unbroken,/).waitFor();
  await officer.getByText('1 entry').waitFor();
  await officer.goto(origin + workOrder);
  await officer.getByRole('heading', { name: /^Closed/ }).waitFor();

  const auditor = await signedInAs(origin, 'moro');
  const pack = await auditor.get(`/auditors-pack/pdf?unit=${unitId}&paper=A4`);
  expect([pack.status, pack.headers.get('content-type')]).toEqual([200, 'application/pdf']);
  expect((await pack.text()).slice(0, 5)).toBe('%PDF-');
  const csv = await (await auditor.get(`/auditors-pack/csv?unit=${unitId}`)).text();
  expect(csv).toMatch(/Spells,\d+,1 Repair certified,"Ode Marrit, T-08/);
  await officer.context().close();
  await mender.context().close();
}

describe('a bad reading in the bay to a released unit, by three people', () => {
  it('on the embedded database', () => fromBadReadingToRelease(inject('origin')), 300_000);

  const hasServer = process.env.TEST_DATABASE_URL !== undefined;
  it.skipIf(!hasServer)(
    'on PostgreSQL',
    async () => {
      const folder = mkdtempSync(join(tmpdir(), 'idlemark-release-'));
      const database = await openTestServer();
      const served = await serveProduct(
        {
          DATABASE_URL: database.url,
          IDLEMARK_SECRET: 'of-this-journey-alone-and-long-enough',
          IDLEMARK_DATA: join(folder, 'unused'),
          IDLEMARK_HEADS: join(folder, 'heads'),
        },
        { units: 40 },
      );
      try {
        await fromBadReadingToRelease(served.origin);
      } finally {
        await served.stop();
        await database.close();
        rmSync(folder, { recursive: true, force: true });
      }
    },
    400_000,
  );
});
