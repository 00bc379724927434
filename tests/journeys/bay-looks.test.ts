import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { axeFinds } from '../support/axe-finds';
import { holdingUnit, onAPhone, pick, screens } from '../support/bay-phone';
import { BayThumb, soundReading } from '../support/bay-thumb';
import { launchChromium } from '../support/chromium';

const origin = inject('origin');
let browser: Browser;

beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser?.close());

/** Names, roles and order are the same in every look: beyond the first only colours are asked again. */
async function isClean(page: Page, state: string, coloursAlone = false): Promise<void> {
  const found = await axeFinds(page, ...(coloursAlone ? ['color-contrast'] : []));
  expect({ state, found }).toEqual({ state, found: [] });
}

/** In forced colours the browser lays Canvas behind text, where it is not told otherwise. */
async function isNotHidden(page: Page, state: string): Promise<void> {
  const hidden = await page.evaluate(() => {
    const canvas = getComputedStyle(document.body).backgroundColor;
    return [...document.querySelectorAll('body *')]
      .filter((one) => {
        const style = getComputedStyle(one);
        return style.color === canvas && style.getPropertyValue('forced-color-adjust') !== 'none';
      })
      .map((one) => one.outerHTML.slice(0, 200));
  });
  expect({ state, hidden }).toEqual({ state, hidden: [] });
}

/** The last button of the foot goes on; it and the heading stand on the screen without scrolling. */
async function isOnScreen(page: Page, state: string): Promise<void> {
  const outside = await page.evaluate(() => {
    const wanted = [...document.querySelectorAll('main h1, main button:last-of-type')];
    return wanted
      .filter((one) => {
        const { top, bottom, left, right, height } = one.getBoundingClientRect();
        return (
          height > 0 && (top < 0 || left < 0 || bottom > innerHeight + 1 || right > innerWidth)
        );
      })
      .map((one) => one.textContent);
  });
  expect({ state, outside }).toEqual({ state, outside: [] });
}

/** Text of twice the size (WCAG 2.2, 1.4.4): nothing leaves the screen sideways, no button cuts its words. */
async function isWholeInLargeText(page: Page, state: string): Promise<void> {
  const cut = await page.evaluate(() => {
    const root = document.documentElement;
    root.style.fontSize = '200%';
    const found = [...document.querySelectorAll('main button, main a')]
      .filter(
        ({ scrollWidth, scrollHeight, clientWidth, clientHeight }) =>
          clientHeight > 0 && (scrollHeight > clientHeight + 2 || scrollWidth > clientWidth + 2),
      )
      .map(({ textContent }) => textContent);
    if (root.scrollWidth > innerWidth) found.push('the page itself');
    root.style.fontSize = '';
    return found;
  });
  expect({ state, cut }).toEqual({ state, cut: [] });
}

const looks = [
  { name: 'a small phone', options: { viewport: { width: 320, height: 640 } } },
  {
    name: 'a tablet in forced colours',
    options: { viewport: { width: 820, height: 1180 }, forcedColors: 'active' },
  },
  {
    name: 'a dark phone asking for more contrast',
    options: {
      viewport: { width: 360, height: 740 },
      colorScheme: 'dark',
      contrast: 'more',
      reducedMotion: 'reduce',
    },
  },
] as const;

describe('each state of the bay card', () => {
  it.each(looks)('on $name shows what goes on, clean of axe', async ({ options }) => {
    const { context, page, snapshot } = await onAPhone(browser, origin, options);
    const coloursAlone = options !== looks[0].options;
    const unit = holdingUnit(snapshot, 3);
    const thumb = new BayThumb(page);
    const look = async (state: string) => {
      await isOnScreen(page, state);
      await isClean(page, state, coloursAlone);
      if (options === looks[1].options) await isNotHidden(page, state);
      if (options === looks[2].options) await isWholeInLargeText(page, state);
    };
    await look('list');
    await thumb.tap('Recent');
    await look('recent');
    await thumb.tap('Key a unit');
    await thumb.key('9');
    await look('number');
    await thumb.tap('Back');
    await pick(thumb, unit.id);
    for (const { on, do: touch } of soundReading(unit.odometer)) {
      await thumb.sees(on);
      await look(String(on));
      if (on === 'Idle vacuum') {
        await thumb.key('300');
        await thumb.tap('Next');
        await thumb.sees('That cannot be');
        await look('impossible');
        await thumb.tap('Back');
        await thumb.tap('Clear');
        await thumb.tap('Could not');
        await thumb.sees('Why not?');
        await look('why not');
        await thumb.tap('Back');
        await thumb.tap('Raised speed');
        await thumb.sees('Vacuum at raised speed');
        await look('raised');
        await thumb.tap('Back');
      }
      await touch(thumb);
    }
    await thumb.sees('Check it');
    await look('check');
    await thumb.tap(/^Belt/);
    await thumb.sees('The pump belt');
    await look('belt');
    await thumb.tap('Sound');
    await thumb.tap('Put on record');
    await page.getByText('On record').waitFor();
    await look('call');
    await thumb.tap('Why');
    await look('why');
    await thumb.tap('Next unit');
    await thumb.tap('Kept here');
    await thumb.sees('Readings on this device');
    await isClean(page, 'kept', coloursAlone);
    for (const path of ['/bay/overdue', '/bay/overdue/tags', '/yard/tags?mark=all']) {
      await page.goto(`${origin}${path}`);
      await isClean(page, path, coloursAlone);
      expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBe(0);
    }
    await context.close();
  });

  it('fills no more than the screen at 360 by 740 where a reason, a gauge or the belt is chosen', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const thumb = new BayThumb(page);
    await pick(thumb, holdingUnit(snapshot, 4).id);
    await thumb.sees('Before you start');
    await page.locator('header b').evaluate((unit) => {
      unit.textContent = 'Unit WATER-DISTRICT-EAST-PICKUP-0000012345';
    });
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBe(0);
    await thumb.tap('All done');
    await thumb.tap('Could not look');
    expect(await screens(page)).toBeLessThanOrEqual(0);
    await thumb.tap('Line would not come off');
    await thumb.tap(/Touch to change\.$/);
    await thumb.sees('Which gauge?');
    expect(await screens(page)).toBeLessThanOrEqual(0);
    await context.close();
  });
});
