import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { axeFinds } from '../support/axe-finds';
import { holdingUnit, onAPhone, pick, screens } from '../support/bay-phone';
import { BayThumb, soundReading } from '../support/bay-thumb';
import { launchChromium } from '../support/chromium';

const origin = inject('origin');
// A sound pump at 10 Hz; its truth: idle 13.304 psi, lowest 10.135, time constant 5.747 s.
const file = fileURLToPath(new URL('../published/figures/traces/trace_11.csv', import.meta.url));
let browser: Browser;

beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser?.close());

async function isClean(page: Page): Promise<void> {
  expect(await screens(page)).toBeLessThanOrEqual(0);
  expect(await axeFinds(page)).toEqual([]);
}

/** From the list to the idle step, where a trace may be chosen. */
async function toIdle(thumb: BayThumb, unit: { id: string; odometer: string }): Promise<void> {
  await pick(thumb, unit.id);
  for (const { on, do: touch } of soundReading(unit.odometer).slice(0, 3)) {
    await thumb.sees(on);
    await touch(thumb);
  }
  await thumb.sees('Idle vacuum');
}

const standsAt = async (page: Page, label: string): Promise<number> =>
  Number(await page.getByRole('slider', { name: label }).getAttribute('aria-valuenow'));

describe('a logging gauge’s trace', () => {
  it('fills the steps without signal, is mended by keys and by dragging, and is marked as such', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const unit = holdingUnit(snapshot, 5);
    const thumb = new BayThumb(page);
    await context.setOffline(true);
    await page.reload();
    await toIdle(thumb, unit);
    await thumb.tap('Trace file');
    await thumb.sees('The gauge’s trace');
    await isClean(page);
    await page.setInputFiles('input[type=file]', file);
    await thumb.sees('Which column is which?');
    await isClean(page);
    await thumb.tap('Read it');
    await thumb.sees('Is the trace read right?');
    await page.getByText('13.3 psi', { exact: true }).waitFor();
    await page.getByText(/^(9\.9|10\.[0-3]) psi$/).waitFor();
    await isClean(page);

    // A tight booster shows no bend: the technician marks the key-off, here 49.7 s in truth.
    await thumb.tap('Mark engine off');
    const off = page.getByRole('slider', { name: 'Engine off' });
    await off.focus();
    const before = await standsAt(page, 'Engine off');
    await page.keyboard.press('PageUp');
    await page.keyboard.press('ArrowRight');
    // A second and a tenth on, each shown to a tenth.
    expect(Math.abs((await standsAt(page, 'Engine off')) - before - 1.1)).toBeLessThan(0.11);
    const curve = await page.locator('svg').filter({ has: off }).boundingBox();
    if (!curve) throw new Error('the curve is drawn');
    const last = Number(await off.getAttribute('aria-valuemax'));
    const xOf = (seconds: number) => curve.x + (seconds / last) * curve.width;
    await page.mouse.move(xOf(before + 1.1), curve.y + 60);
    await page.mouse.down();
    await page.mouse.move(xOf(49.7), curve.y + 60, { steps: 4 });
    await page.mouse.up();
    expect(Math.abs((await standsAt(page, 'Engine off')) - 49.7)).toBeLessThan(1);
    await page.getByText('Lost in 60 s').waitFor();
    await isClean(page);

    // Killed here, the card opens on the trace as it was marked.
    await page.close();
    const next = await context.newPage();
    await next.clock.install();
    await next.goto(`${origin}/bay`);
    const again = new BayThumb(next);
    await again.sees('Is the trace read right?');
    expect(Math.abs((await standsAt(next, 'Engine off')) - 49.7)).toBeLessThan(1);

    await again.tap('Use these');
    await again.sees('How was the pedal?');
    await again.tap(/^Normal/);
    await again.sees('Odometer');
    await again.key(unit.odometer);
    await again.tap('Next');
    await again.sees('Put it back');
    await again.tap('All done');
    await again.sees('Check it');
    await next.getByText(/^13\.\d\d psi, trace$/).waitFor();
    await next.getByText(/^0\.\d\d psi, trace$/).waitFor();
    await again.tap('Put on record');
    await next.getByText('Kept on this device.').waitFor();
    await context.setOffline(false);
    await next.getByText('On record').waitFor({ timeout: 60_000 });
    await next.goto(`${origin}/units/${unit.id}`);
    await next
      .getByText(/from a gauge’s trace, corrected by hand, time constant 5\.\d s/)
      .waitFor();
    await context.close();
  });

  it('asks once which column is which, and says what is wrong with a file', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const thumb = new BayThumb(page);
    await toIdle(thumb, holdingUnit(snapshot, 6));
    await thumb.tap('Trace file');
    await page.setInputFiles('input[type=file]', {
      name: 'notes.txt',
      mimeType: 'text/plain',
      buffer: Buffer.from('no figures here\n'),
    });
    await page.getByText('No line of that file holds a time and a pressure.').waitFor();
    await page.setInputFiles('input[type=file]', {
      name: 'short.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('\uFEFFclock;channel B\n0;13,0\n0,1;13,0\n', 'utf16le'),
    });
    await thumb.sees('Which column is which?');
    await thumb.tap('Read it');
    await page.getByText('The trace lasts less than 15 s.').waitFor();
    await thumb.tap('Back');
    const log = (...lines: readonly string[]) => ({
      name: 'log again.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from(`\uFEFFclock;channel B\n${lines.join('\n')}\n`, 'utf16le'),
    });
    await page.setInputFiles('input[type=file]', log('0;13,0', '0,5;13,0'));
    await page.getByText('The trace lasts less than 15 s.').waitFor();
    await thumb.tap('Columns');
    await page.getByLabel('Unit of the time').selectOption('min');
    await thumb.tap('Read it');
    await page.getByText('The gauge logged 0.0 samples a second').waitFor();
    await thumb.tap('Columns');
    expect(await page.getByLabel('Unit of the time').inputValue()).toBe('min');
    await thumb.tap('Back');
    await thumb.sees('Is the trace read right?');
    await thumb.tap('Back');
    await page.setInputFiles('input[type=file]', log('0;13,0', '0,1;lost'));
    await page.getByText('Line 3 has no pressure that can be read.').waitFor();
    await thumb.tap('Back');
    await thumb.tap('Back');
    await thumb.sees('Idle vacuum');
    await context.close();
  });
});
