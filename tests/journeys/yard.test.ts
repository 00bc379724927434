import { parse } from 'csv-parse/sync';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { axeFinds } from '../support/axe-finds';
import { launchChromium, openAs } from '../support/chromium';

const origin = inject('origin');
let browser: Browser;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser?.close());

const signIn = (who: string, to: string, options?: BrowserContextOptions) =>
  openAs(browser, origin, who, to, options);

const grid = (page: Page) => page.getByRole('grid', { name: 'Units' });
const activeRow = (page: Page) => grid(page).locator('tr[aria-selected="true"]');
const rowsListed = async (page: Page) => Number(await grid(page).getAttribute('aria-rowcount')) - 1;

describe('the yard', () => {
  it('opens on Book in and follows the keys', async () => {
    const page = await signIn('ines', '/yard');
    await grid(page).waitFor();
    expect(await grid(page).locator('tbody tr').first().textContent()).toContain('Book in');
    expect(await axeFinds(page)).toEqual([]);

    await page.getByRole('link', { name: /^All/ }).click();
    await page.waitForURL(/mark=all/);
    await expect.poll(() => rowsListed(page)).toBe(120);
    expect(await grid(page).locator('tr').count()).toBeLessThanOrEqual(100);

    await grid(page).focus();
    await page.keyboard.press('End');
    await expect.poll(() => activeRow(page).getAttribute('aria-rowindex')).toBe('121');
    await expect.poll(() => activeRow(page).locator('a').count()).toBe(1);
    await page.keyboard.press('ArrowUp');
    await expect.poll(() => activeRow(page).getAttribute('aria-rowindex')).toBe('120');
    await page.keyboard.press('Home');
    await expect.poll(() => activeRow(page).getAttribute('aria-rowindex')).toBe('2');
    await page.keyboard.press('PageDown');
    await page.keyboard.press('PageDown');
    const unit = (await activeRow(page).locator('a').textContent()) ?? '';
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: `Unit ${unit}` }).waitFor();

    await page.goBack();
    await expect.poll(() => activeRow(page).locator('a').textContent()).toBe(unit);
    expect(page.url()).toContain('mark=all');
    await page.context().close();
  });

  it('narrows by find and keeps the filter in the address and in the CSV', async () => {
    const page = await signIn('ines', '/yard?mark=all');
    await grid(page).waitFor();
    const unit = (await grid(page).locator('tbody a').first().textContent()) ?? '';
    await grid(page).focus();
    await page.keyboard.press('/');
    await page.keyboard.type(unit.slice(0, 3).toLowerCase());
    await page.waitForURL(new RegExp(`find=${unit.slice(0, 3)}`));
    await expect.poll(() => rowsListed(page)).toBeLessThan(20);
    const listed = await grid(page).locator('tbody a').allTextContents();
    expect(listed.every((each) => each.startsWith(unit.slice(0, 3)))).toBe(true);

    const href = await page.getByRole('link', { name: 'Export CSV' }).getAttribute('href');
    const file = await page.request.get(`${origin}${href}`);
    const rows: string[][] = parse(await file.text());
    expect(rows.slice(1).map(([id]) => id)).toEqual(listed);

    await page.getByRole('searchbox', { name: 'Find unit' }).fill('ZZZZ');
    await page.getByText('No unit matches.').waitFor();
    await page.context().close();
  });

  it('keeps its rows and says how old they are when the server is not heard', async () => {
    const page = await signIn('ines', '/yard');
    await grid(page).waitFor();
    await page.route('**/api/v1/units?*', (route) => route.abort());
    await page.getByRole('button', { name: 'Unit', exact: true }).click();
    await page.getByText(/^As of .*, not refreshed\./).waitFor();
    expect(await grid(page).locator('tbody a').count()).toBeGreaterThan(5);
    await page.unroute('**/api/v1/units?*');
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.getByText(/units, as of/).waitFor();
    await page.context().close();
  });

  it('keeps a view under a name, with its columns, and prints it', async () => {
    const page = await signIn('ines', '/yard?mark=Drifting&sort=unit');
    await page.getByText('Columns', { exact: true }).click();
    await page.getByRole('checkbox', { name: 'Bulletins' }).uncheck();
    await page.waitForURL(/columns=/);
    await page.getByText('Columns', { exact: true }).click();
    await page.getByText('Saved views').click();
    await page.getByLabel('Save this view as').fill('Drifting, by number');
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByRole('link', { name: 'Drifting, by number' }).waitFor();
    expect(await axeFinds(page)).toEqual([]);

    await page.goto(`${origin}/yard`);
    await page.getByText('Saved views (1)').click();
    await page.getByRole('link', { name: 'Drifting, by number' }).click();
    await page.waitForURL(/mark=Drifting/);
    await expect.poll(() => page.getByRole('columnheader', { name: 'Bulletins' }).count()).toBe(0);

    await page.getByRole('link', { name: 'Print this list' }).click();
    await page.getByRole('heading', { name: 'Yard list' }).waitFor();
    expect(await axeFinds(page)).toEqual([]);
    await page.context().close();
  });

  it('fits a phone without sideways scroll', async () => {
    const page = await signIn('ines', '/yard', { viewport: { width: 360, height: 900 } });
    await grid(page).waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(360);
    expect(await axeFinds(page)).toEqual([]);
    await page.context().close();
  });
});

describe('the unit sheet', () => {
  it('says the sentence first and passes axe, wide and narrow', async () => {
    const page = await signIn('ines', '/yard');
    const unit = (await grid(page).locator('tbody a').first().textContent()) ?? '';
    for (const width of [1440, 360]) {
      await page.setViewportSize({ width, height: 900 });
      await page.goto(`${origin}/units/${unit}`);
      await page.getByRole('heading', { name: `Unit ${unit}` }).waitFor();
      await page.getByRole('heading', { name: 'Probable cause' }).waitFor();
      await page.getByRole('region', { name: /^Readings, vacuum/ }).waitFor();
      expect(await page.locator('main').textContent()).not.toMatch(/\bsafe\b/i);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(width);
      expect(await axeFinds(page)).toEqual([]);
    }
    await page.context().close();
  });

  it('is not found for an unknown unit and refused for a shed of others', async () => {
    const page = await signIn('tal', '/yard?mark=all');
    await grid(page).waitFor();
    expect((await page.goto(`${origin}/units/NONE-1`))?.status()).toBe(404);
    const desk = await signIn('ines', '/yard?mark=all&shed=quay');
    const foreign = await grid(desk).locator('tbody a').first().textContent();
    expect((await page.goto(`${origin}/units/${foreign}`))?.status()).toBe(403);
    await page.getByText('This page is not open to you').waitFor();
    const file = await page.request.get(`${origin}/api/v1/units/${foreign}/readings`);
    expect(file.status()).toBe(403);
    await desk.context().close();
    await page.context().close();
  });
});
