import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import type { BaySnapshot } from '@/lib/bay-card/snapshot';
import { fromKilometres } from '@/lib/measure';
import { type BayThumb, type Needle, soundReading } from './bay-thumb';
import { phone, signIn } from './chromium';

export interface Phone {
  readonly context: BrowserContext;
  readonly page: Page;
  readonly snapshot: BaySnapshot;
}

interface WhoseOptions extends BrowserContextOptions {
  readonly who?: string;
}

/** Somebody of the demo who reads units, signed in on a phone that by now works without signal. */
export async function onAPhone(
  browser: Browser,
  origin: string,
  { who = 'tal', ...options }: WhoseOptions = {},
): Promise<Phone> {
  const context = await browser.newContext({ viewport: phone, ...options });
  const page = await context.newPage();
  await page.clock.install();
  await signIn(page, origin, who, '/bay');
  await page.getByText('In your bay today').waitFor();
  await page.getByText('Works without signal.').waitFor({ timeout: 60_000 });
  const snapshot = await page.evaluate(async () => (await fetch('/api/v1/bay')).json());
  return { context, page, snapshot };
}

/** A unit in use that holds, with an odometer that has gone on since. */
export function holdingUnit({ units }: BaySnapshot, nth: number) {
  const holding = units.filter(
    ({ mark, proof, expectedIdleSle }) =>
      mark === 'Holding' && proof === null && (expectedIdleSle ?? 0) > 82,
  );
  const unit = holding[nth % holding.length];
  if (!unit) throw new Error('the demo has units that hold');
  const last = unit.input.readings.findLast(({ odometer }) => odometer !== null);
  const odometer = Math.round(fromKilometres(last?.odometer ?? 50_000, 'mi')) + 40;
  return { id: unit.id, odometer: String(odometer) };
}

export async function pick(thumb: BayThumb, id: string): Promise<void> {
  await thumb.tap('Key a unit');
  await thumb.key(id.replace(/^0+/, ''));
  await thumb.tap(`Read ${id}`);
}

/** From the cautions to the check. */
export async function readUnit(thumb: BayThumb, odometer: string, needle?: Needle): Promise<void> {
  for (const { on, do: touch } of soundReading(odometer, needle)) {
    await thumb.sees(on);
    await touch(thumb);
  }
  await thumb.sees('Check it');
}

/** How far the page reaches past the screen, px. */
export const screens = async (page: Page) =>
  page.evaluate(() => document.documentElement.scrollHeight - window.innerHeight);
