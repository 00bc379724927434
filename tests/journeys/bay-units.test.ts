import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, it } from 'vitest';
import type { BaySnapshot } from '@/lib/bay-card/snapshot';
import { fromKilopascals } from '@/lib/measure';
import { axeFinds } from '../support/axe-finds';
import { onAPhone, pick, screens } from '../support/bay-phone';
import { BayThumb, soundReading } from '../support/bay-thumb';
import { launchChromium, openAs } from '../support/chromium';
import { signedInAs } from '../support/visitor';

const origin = inject('origin');
let browser: Browser;

beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser?.close());

/** Two units of the shed by the water, whose gauges read inHg, and their odometers gone on, km. */
function unitsByTheWater({ units }: BaySnapshot) {
  const found = units.filter(
    ({ shedId, mark, proof, expectedIdleSle }) =>
      shedId === 'quay' &&
      mark === 'Holding' &&
      proof === null &&
      Math.abs((expectedIdleSle ?? 0) - 90) < 6,
  );
  return found.slice(0, 2).map(({ id, input }) => {
    const last = input.readings.findLast(({ odometer }) => odometer !== null)?.odometer ?? 80_000;
    return { id, odometer: String(Math.round(last) + 60) };
  });
}

it('asks in the gauge’s unit, doubts the wrong one, answers in the person’s own, keeps what was keyed', async () => {
  const desk = await openAs(browser, origin, 'anse', '/account');
  await desk.getByLabel('Pressure').selectOption('kPa');
  await desk.getByLabel('Distance').selectOption('km');
  await desk.getByRole('button', { name: 'Keep these units' }).click();
  await desk.getByText('Kept. Figures are shown so from here on.').waitFor();
  expect(await axeFinds(desk)).toEqual([]);
  await desk.context().close();

  const { context, page, snapshot } = await onAPhone(browser, origin, { who: 'anse' });
  const [first, second] = unitsByTheWater(snapshot);
  if (!first || !second) throw new Error('the demo has sound units by the water');
  const thumb = new BayThumb(page);
  await pick(thumb, first.id);
  const steps = soundReading(first.odometer);
  for (const { on, do: touch } of steps.slice(0, 2)) {
    await thumb.sees(on);
    await touch(thumb);
  }
  await thumb.sees('Fit the gauge');
  await page.getByText('Reads inHg. Touch to change.').waitFor();
  await thumb.tap(/^Quay shed dial gauge/);
  await thumb.sees('Which gauge?');
  expect(await screens(page)).toBeLessThanOrEqual(0);
  expect(await axeFinds(page)).toEqual([]);
  await thumb.tap(/^Quay shed logging gauge/);
  await thumb.sees('Fit the gauge');
  await thumb.tap('All done');

  // 13.1 inHg is 6.4 psi, far from what the unit shows, and 13.1 psi is what it shows.
  await thumb.sees('Idle vacuum');
  await thumb.key('131');
  await thumb.tap('Next');
  await thumb.sees('Is that right?');
  await page.getByText('Idle 13.1 inHg is not what this unit shows; 13.1 psi would be.').waitFor();
  expect(await axeFinds(page)).toEqual([]);
  await thumb.tap('psi');
  await thumb.sees('Idle vacuum');
  for (const { on, do: touch } of steps.slice(3)) {
    await thumb.sees(on);
    if (on === 'Idle vacuum') await thumb.tap('Next');
    else await touch(thumb);
  }
  await thumb.sees('Check it');
  await page.getByText('13.1 psi', { exact: true }).waitFor();
  await page.getByText(/\d km$/).waitFor();
  await thumb.tap('Put on record');
  await page.getByText('On record').waitFor();
  // NIST SP 811: 1 psi is 6.894757 kPa.
  await page.getByRole('cell', { name: (13.1 * 6.894757).toFixed(1), exact: true }).waitFor();

  const visitor = await signedInAs(origin, 'rhea');
  const csv = await (await visitor.get(`/api/v1/units/${first.id}/readings`)).text();
  expect(csv).toContain(`idle 13.1 psi; lowest 10.5 psi`);
  expect(csv).toContain(`odometer ${first.odometer} km`);

  await thumb.tap('Next unit');
  await pick(thumb, second.id);
  await thumb.tap('All done');
  await thumb.tap(/^Dry/);
  await thumb.sees('Fit the gauge');
  await page.getByRole('button', { name: /^Quay shed logging gauge/ }).waitFor();
  await page.getByText('Reads psi. Touch to change.').waitFor();
  await context.close();
});

it('offers the unit in which an impossible figure could stand', async () => {
  const { context, page, snapshot } = await onAPhone(browser, origin);
  const unit = snapshot.units.find(({ mark, proof }) => mark === 'Holding' && proof === null);
  if (!unit) throw new Error('the demo has units that hold');
  const thumb = new BayThumb(page);
  await pick(thumb, unit.id);
  for (const { on, do: touch } of soundReading('1').slice(0, 3)) {
    await thumb.sees(on);
    await touch(thumb);
  }
  await thumb.sees('Idle vacuum');
  const expected = fromKilopascals(unit.expectedIdleSle ?? 90, 'inHg');
  await thumb.key(String(Math.round(expected * 10)));
  await thumb.tap('Next');
  await thumb.sees('That cannot be');
  await page.getByText(/Is that inHg\?/).waitFor();
  await thumb.tap('inHg');
  await thumb.sees('Idle vacuum');
  await thumb.tap('Next');
  await thumb.sees(/^Press the pedal/);
  await context.close();
});
