import ICAL from 'ical.js';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { axeFinds } from '../support/axe-finds';
import { launchChromium, openAs } from '../support/chromium';

const origin = inject('origin');
let browser: Browser;
let page: Page;
beforeAll(async () => {
  browser = await launchChromium();
  page = await openAs(browser, origin, 'ines', '/today');
});
afterAll(() => browser?.close());

const said = (text: RegExp) => page.getByRole('status').filter({ hasText: text }).first().waitFor();

describe('the fleet manager', () => {
  it.each([
    '/today',
    '/readings-round',
    '/parts',
    '/learn',
    '/calendar',
    '/work-orders/templates',
    '/work-orders/new',
    '/yard/choose',
    '/bay-plan',
  ])('finds nothing in the way on %s', async (path) => {
    await page.goto(origin + path);
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.waitForLoadState('networkidle');
    expect(await axeFinds(page)).toEqual([]);
  });

  it('moves an order by keyboard, and takes the move back', async () => {
    await page.goto(`${origin}/bay-plan`);
    const grid = page.getByRole('region', { name: 'Weeks by shed' });
    const order = grid.getByRole('link').first();
    const unit = ((await order.textContent()) ?? '').match(/\d+/)?.[0] ?? '';
    const link = grid.getByRole('link', { name: new RegExp(unit) });
    const column = () =>
      link.evaluate((one) => (one.closest('td') as HTMLTableCellElement).cellIndex);
    const before = await column();
    await link.focus();
    await page.keyboard.press('Alt+ArrowRight');
    await said(/Placed in .* pinned/);
    await expect.poll(column).toBe(before + 1);
    await page.getByRole('button', { name: 'Undo' }).click();
    await said(/Undone/);
    await expect.poll(column).toBe(before);
  });

  it('proposes a plan with its bound, and undoes it as a whole', async () => {
    await page.goto(`${origin}/bay-plan`);
    const left = page.getByRole('heading', { name: /^Not placed: / });
    const before = await left.textContent();
    await page.getByRole('button', { name: /^Propose/ }).click();
    await said(/weighed .* before, and weighs .* now/);
    await page.getByText(/this one is at most .* above the best/).waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await said(/Undone/);
    await expect.poll(() => left.textContent()).toBe(before);
  });

  it('gets a calendar that a calendar library reads, until it is revoked', async () => {
    await page.goto(`${origin}/calendar`);
    await page.getByRole('button', { name: /^Make/ }).click();
    const address = await page.getByLabel('Your calendar address').inputValue();
    const answer = await fetch(address);
    expect(answer.headers.get('content-type')).toContain('text/calendar');
    const events = new ICAL.Component(ICAL.parse(await answer.text())).getAllSubcomponents(
      'vevent',
    );
    expect(events.length).toBeGreaterThan(3);
    await page.getByRole('button', { name: 'Revoke it' }).click();
    await said(/No address works/);
    expect((await fetch(address)).status).toBe(404);
  });

  it('schedules readings of chosen units', async () => {
    const scheduleTwo = async () => {
      await page.goto(`${origin}/yard/choose?mark=Holding`);
      await page.getByRole('checkbox').nth(1).check();
      await page.getByRole('checkbox').nth(2).check();
      await page.getByRole('button', { name: 'Schedule readings' }).click();
    };
    await scheduleTwo();
    await said(/2 orders raised, 2 of them placed/);
    await scheduleTwo();
    await said(/0 orders raised, 0 of them placed. 2 left alone/);
  });
});
