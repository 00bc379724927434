import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { holdingUnit, pick } from '../support/bay-phone';
import { BayThumb, soundReading } from '../support/bay-thumb';
import { launchChromium, phone, signIn } from '../support/chromium';
import { serveProduct } from '../support/serve-product';
import { bar, observed, slowed, type Vitals } from './vitals';

const onPhone = { viewport: phone };
const secondsATap = 1.2;
const settleMs = 6000;

async function opening(context: BrowserContext, origin: string): Promise<Vitals> {
  const page = await context.newPage();
  await observed(page);
  await slowed(page);
  await page.goto(`${origin}/bay`);
  await page.waitForTimeout(settleMs);
  const vitals = await page.evaluate(() => window.vitals);
  await page.close();
  return vitals;
}

async function openings(browser: Browser, origin: string): Promise<void> {
  const firsts: Vitals[] = [];
  const repeats: Vitals[] = [];
  for (let round = 0; round < 3; round++) {
    const context = await browser.newContext(onPhone);
    const page = await context.newPage();
    await signIn(page, origin, 'tal', '/bay/overdue');
    await page.close();
    firsts.push(await opening(context, origin));
    await opening(context, origin);
    repeats.push(await opening(context, origin));
    await context.close();
  }
  const middle = (all: Vitals[]) => all.toSorted((a, b) => a.lcp - b.lcp)[1]!;
  bar(
    `LCP, first opening: "${middle(firsts).lcpText.slice(0, 24)}"`,
    middle(firsts).lcp,
    1800,
    'ms',
  );
  bar(
    `LCP, repeat opening: "${middle(repeats).lcpText.slice(0, 24)}"`,
    middle(repeats).lcp,
    1000,
    'ms',
  );
  const worst = [...firsts, ...repeats].reduce((a, b) => (b.shift > a.shift ? b : a));
  bar('CLS', worst.shift, 0.02, '', 3);
  if (worst.shift > 0) console.log(`  ${worst.shifted}`);
}

/** Scripts that the first screen asks for, and those that come after it. */
async function sizes(browser: Browser, origin: string): Promise<void> {
  const context = await browser.newContext({ ...onPhone, serviceWorkers: 'block' });
  const page = await context.newPage();
  await signIn(page, origin, 'tal', '/bay/overdue');
  const scripts = new Map<string, number>();
  page.on('response', async (response) => {
    if (!response.url().endsWith('.js')) return;
    const body = await response.body().catch(() => null);
    if (body) scripts.set(new URL(response.url()).pathname, gzipSync(body).length);
  });
  await page.goto(`${origin}/bay`);
  await page.getByText('In your bay today').waitFor();
  await page.waitForTimeout(3000);
  const markup = await (await page.request.get(`${origin}/bay`)).text();
  const kilobytes = (wanted: (path: string) => boolean) =>
    [...scripts].reduce((sum, [path, size]) => sum + (wanted(path) ? size : 0), 0) / 1000;
  bar(
    'JS on first load, gzipped',
    kilobytes((path) => markup.includes(path)),
    170,
    'kB',
    1,
  );
  bar(
    'all JS, with later steps and the analysis',
    kilobytes(() => true),
    210,
    'kB',
    1,
  );
  await context.close();
}

/** From the next touch, as the browser stamps it, to the frame after the one that shows the call. */
const watchForTheCall = (page: Page) =>
  page.evaluate(() => {
    let submitted = 0;
    addEventListener(
      'click',
      ({ timeStamp }) => {
        submitted = timeStamp;
      },
      { capture: true, once: true },
    );
    new MutationObserver((_, watcher) => {
      if (!document.querySelector('main section[aria-live]')) return;
      watcher.disconnect();
      requestAnimationFrame(() =>
        setTimeout(() => {
          window.vitals.call = performance.now() - submitted;
        }),
      );
    }).observe(document.body, { subtree: true, childList: true });
  });

/** One reading on real clocks: 60 s of hold, real recovery, a touch each 1.2 s. */
async function reading(browser: Browser, origin: string): Promise<void> {
  const context = await browser.newContext(onPhone);
  const page = await context.newPage();
  await observed(page);
  await signIn(page, origin, 'tal', '/bay');
  await page.getByText('In your bay today').waitFor();
  const snapshot = await (await page.request.get(`${origin}/api/v1/bay`)).json();
  await slowed(page);
  await page.evaluate(() => {
    window.vitals.answers = [];
  });
  const unit = holdingUnit(snapshot, 0);
  const thumb = new BayThumb(page, secondsATap);
  await pick(thumb, unit.id);
  // The bar counts from a unit that stands on the list: one touch.
  thumb.taps = 1;
  let began = Date.now();
  for (const { on, do: touch } of soundReading(unit.odometer)) {
    await thumb.sees(on);
    if (on === 'Idle vacuum') began = Date.now();
    await touch(thumb);
  }
  await thumb.sees('Check it');
  await watchForTheCall(page);
  await page.getByRole('button', { name: 'Put on record' }).click();
  await page.getByRole('button', { name: 'Next unit' }).waitFor();
  await page.getByText('On record', { exact: true }).waitFor();
  thumb.taps += 1;
  bar('touches, bay list to on record', thumb.taps, 30, '');
  bar('gauge fitted to on record', (Date.now() - began) / 1000 + secondsATap, 120, 's', 1);
  const { call, answers } = await page.evaluate(() => window.vitals);
  bar('call after submitting', call, 300, 'ms');
  const slowest = answers.toSorted((a, b) => b.duration - a.duration);
  bar('INP over the reading', slowest[0]?.duration ?? Number.NaN, 100, 'ms');
  for (const { duration, name } of slowest.slice(0, 5)) console.log(`  ${duration} ms: ${name}`);
  await context.close();
}

/** The bars of the bay card, on the built product with the demo fleet: needs a quiet machine. */
export async function benchBayCard(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'idlemark-bench-'));
  const { origin, stop } = await serveProduct({ IDLEMARK_DATA: join(folder, 'database') });
  const browser = await launchChromium();
  try {
    await sizes(browser, origin);
    await openings(browser, origin);
    await reading(browser, origin);
  } finally {
    await browser.close();
    await stop();
    rmSync(folder, { recursive: true, force: true });
  }
}
