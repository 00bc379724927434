import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { axeFinds } from '../support/axe-finds';
import { holdingUnit, onAPhone, pick, readUnit, screens } from '../support/bay-phone';
import { BayThumb, soundReading } from '../support/bay-thumb';
import { launchChromium, phone } from '../support/chromium';

const origin = inject('origin');
const onItsSide = { width: phone.height, height: phone.width };
let browser: Browser;

beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser?.close());

describe('the bay card', () => {
  it('takes a reading from list to record in at most 30 touches, without scrolling, clean of axe', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const unit = holdingUnit(snapshot, 0);
    const thumb = new BayThumb(page);
    await pick(thumb, unit.id);
    // The bar counts from a unit that stands on the list: one touch.
    thumb.taps = 1;
    for (const { on, do: touch } of soundReading(unit.odometer)) {
      await thumb.sees(on);
      expect(await screens(page)).toBeLessThanOrEqual(0);
      expect(await axeFinds(page)).toEqual([]);
      await touch(thumb);
    }
    await thumb.sees('Check it');
    expect(await screens(page)).toBeLessThanOrEqual(0);
    const submitted = Date.now();
    await thumb.tap('Put on record');
    await page.getByRole('button', { name: 'Next unit' }).waitFor();
    console.log(
      `call after ${Date.now() - submitted} ms as the test sees it, ${thumb.taps} touches`,
    );
    await page.getByText('On record').waitFor();
    await page.getByText('The unit may go out.', { exact: true }).waitFor();
    expect(thumb.taps).toBeLessThanOrEqual(30);
    expect(await axeFinds(page)).toEqual([]);
    await context.close();
  });

  it('has targets of at least 64 px and keys of at least 104 by 76, text of at least 17 px', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const thumb = new BayThumb(page);
    const unit = holdingUnit(snapshot, 1);
    await pick(thumb, unit.id);
    for (const { on, do: touch } of soundReading(unit.odometer).slice(0, 9)) {
      await thumb.sees(on);
      const small = await page.evaluate(() => {
        const found: string[] = [];
        for (const button of document.querySelectorAll('main button')) {
          const { width, height } = button.getBoundingClientRect();
          const isKey = /^(\d|Clear|Delete)$/.test(button.textContent ?? '');
          if (width < (isKey ? 104 : 64) || height < (isKey ? 76 : 64)) {
            found.push(`${button.textContent} ${width}×${height}`);
          }
        }
        for (const one of document.querySelectorAll('main *')) {
          const isText = [...one.childNodes].some(
            (node) => node.nodeType === Node.TEXT_NODE && node.textContent?.trim(),
          );
          if (isText && Number.parseFloat(getComputedStyle(one).fontSize) < 17) {
            found.push(`${one.textContent} is small`);
          }
        }
        return found;
      });
      expect(small).toEqual([]);
      await touch(thumb);
    }
    await context.close();
  });

  it('without signal opens, reads, judges and keeps; with signal it sends by itself, once', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const unit = holdingUnit(snapshot, 2);
    await context.setOffline(true);
    await page.reload();
    const thumb = new BayThumb(page);
    await thumb.sees('Which unit?');
    await pick(thumb, unit.id);
    await readUnit(thumb, unit.odometer);
    await thumb.tap('Put on record');
    await page.getByText('Kept on this device.').waitFor();
    await page.getByText(/^By this reading it may go out; last heard from the desk/).waitFor();
    expect(await page.getByText('On record').count()).toBe(0);
    const other = await context.newPage();
    await other.goto(`${origin}/bay`);
    await other.getByText('Kept on this device.').waitFor();
    let answered = 0;
    context.on('response', (response) => {
      if (response.request().method() === 'POST' && response.url().endsWith('/readings')) {
        answered += 1;
      }
    });
    const began = Date.now();
    await context.setOffline(false);
    await page.getByText('On record').waitFor({ timeout: 60_000 });
    console.log(`on record ${((Date.now() - began) / 1000).toFixed(1)} s after signal`);
    expect(answered).toBe(1);
    await context.close();
  });

  it('killed on any screen, opens on the same one with what was keyed, either way up', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const unit = holdingUnit(snapshot, 3);
    let thumb = new BayThumb(page);
    let isUpright = true;
    await pick(thumb, unit.id);
    for (const { on, do: touch } of soundReading(unit.odometer)) {
      await thumb.sees(on);
      await thumb.page.close();
      const next = await context.newPage();
      await next.clock.install();
      await next.setViewportSize(isUpright ? phone : onItsSide);
      await next.goto(`${origin}/bay`);
      thumb = new BayThumb(next);
      await thumb.sees(on);
      // Turned under the hand: the screen stands, and a watch goes on.
      isUpright = !isUpright;
      await next.setViewportSize(isUpright ? phone : onItsSide);
      await thumb.sees(on);
      await touch(thumb);
    }
    await thumb.sees('Check it');
    for (const value of ['13.1 psi', '10.5 psi', '12.9 psi', 'dry', 'normal']) {
      await thumb.page.getByText(value, { exact: true }).waitFor();
    }
    await context.close();
  });

  it('loses nothing to a session that has ended', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const unit = holdingUnit(snapshot, 4);
    const thumb = new BayThumb(page);
    await pick(thumb, unit.id);
    await readUnit(thumb, unit.odometer);
    await context.clearCookies();
    await thumb.tap('Put on record');
    await page.getByText('Sign in again and it sends itself.').waitFor();
    await page.getByRole('link', { name: 'Sign in again' }).click();
    await page.fill('input[name=email]', 'tal@tarn.example');
    await page.fill('input[name=password]', 'demo-only-not-secret');
    await page.click('button[type=submit]');
    await page.getByText('On record').waitFor();
    await context.close();
  });
});
