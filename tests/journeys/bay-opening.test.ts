import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import type { BaySnapshot } from '@/lib/bay-card/snapshot';
import { onAPhone, pick } from '../support/bay-phone';
import { BayThumb } from '../support/bay-thumb';
import { launchChromium, phone, signIn } from '../support/chromium';
import { signedInAs } from '../support/visitor';

const origin = inject('origin');
let browser: Browser;

beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser?.close());

const listedIn = (markup: string): string[] =>
  [...markup.matchAll(/href="\/bay\?unit=([^"]+)"/g)].map(([, id]) => id as string);

const inBay = ({ units }: BaySnapshot): string[] =>
  units.filter((unit) => unit.inBay !== null).map(({ id }) => id);

describe('the bay card as it opens', () => {
  it('has the person’s list in its markup, and nobody’s in the page that a device keeps', async () => {
    const technician = await signedInAs(origin, 'tal');
    const snapshot = (await (await technician.get('/api/v1/bay')).json()) as BaySnapshot;
    const listed = listedIn(await (await technician.get('/bay')).text());
    expect(listed.length).toBeGreaterThan(0);
    expect(inBay(snapshot)).toEqual(expect.arrayContaining(listed));
    const kept = await technician.ask('GET', '/bay', { headers: { 'x-page-to-keep': '1' } });
    const markup = await kept.text();
    expect(listedIn(markup)).toEqual([]);
    for (const told of [snapshot.person.id, snapshot.person.name, ...inBay(snapshot)]) {
      expect(markup).not.toContain(`"${told}"`);
    }
  });

  it('reads a unit that was touched before its history was there', async () => {
    const context = await browser.newContext({ viewport: phone });
    let letGo = () => {};
    const held = new Promise<void>((resolve) => {
      letGo = resolve;
    });
    await context.route('**/api/v1/bay', async (route) => {
      await held;
      await route.continue();
    });
    const page = await context.newPage();
    await signIn(page, origin, 'tal', '/bay');
    const touched = page.locator('main a[href^="/bay?unit="]').first();
    const id = new URL((await touched.getAttribute('href')) ?? '', origin).searchParams.get('unit');
    await page.waitForFunction(() => document.activeElement?.tagName === 'H1');
    await touched.click();
    await page.getByText(`Unit ${id}: waiting for its readings.`).waitFor();
    letGo();
    await new BayThumb(page).sees('Before you start');
    await page.getByText(`Unit ${id}`).waitFor();
    await context.close();
  });

  it('shows another person of a shared tablet their own list, never the one kept before', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin, { who: 'rhea' });
    await context.clearCookies();
    await signIn(page, origin, 'tal', '/bay/overdue');
    const other = (await (await page.request.get(`${origin}/api/v1/bay`)).json()) as BaySnapshot;
    const strangers = inBay(snapshot).filter((id) => !inBay(other).includes(id));
    expect(strangers.length).toBeGreaterThan(0);
    await context.route('**/api/v1/bay', (route) => route.abort());
    await page.goto(`${origin}/bay`);
    await page.getByText(`In your bay today: ${inBay(other).length}.`).waitFor();
    await page.getByText('No signal').waitFor();
    const links = await page.locator('main a[href^="/bay?unit="]').all();
    expect(links.length).toBeGreaterThan(0);
    for (const link of links) {
      const unit = new URL((await link.getAttribute('href')) ?? '', origin).searchParams.get(
        'unit',
      );
      expect(inBay(other)).toContain(unit);
    }
    // Nor can a unit be keyed that only the person before may see.
    await new BayThumb(page).tap('Key a unit');
    await new BayThumb(page).key((strangers[0] ?? '').replace(/\D/g, '').replace(/^0+/, ''));
    await page.getByText('No unit of your sheds has this number.').waitFor();
    await context.close();
  });

  it('goes on with a step that the device keeps, without the list flashing by', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const thumb = new BayThumb(page);
    await pick(thumb, inBay(snapshot)[0] ?? '');
    await thumb.sees('Before you start');
    const markup = await (await page.request.get(`${origin}/bay`)).text();
    expect(listedIn(markup)).toEqual([]);
    await page.reload();
    await thumb.sees('Before you start');
    await thumb.tap('Back');
    await page.getByText('In your bay today').waitFor();
    expect(listedIn(await (await page.request.get(`${origin}/bay`)).text()).length).toBeGreaterThan(
      0,
    );
    await context.close();
  });

  it('with a session that has ended opens the kept page, and says so', async () => {
    const { context, page } = await onAPhone(browser, origin);
    await context.clearCookies();
    await page.goto(`${origin}/bay`);
    await page.getByRole('link', { name: 'Sign in again' }).waitFor();
    await context.close();
  });
});
