import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';

const flags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export const launchChromium = (...more: readonly string[]): Promise<Browser> =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: [...flags, ...more],
  });

export async function signIn(page: Page, origin: string, who: string, to: string): Promise<void> {
  await page.goto(`${origin}/sign-in?to=${encodeURIComponent(to)}`);
  await page.fill('input[name=email]', `${who}@tarn.example`);
  await page.fill('input[name=password]', 'demo-only-not-secret');
  await page.click('button[type=submit]');
  await page.waitForURL(({ pathname }) => pathname === new URL(to, origin).pathname);
}

const desk = { width: 1440, height: 900 };
export const phone = { width: 360, height: 740 };

/** Somebody of the demo, signed in on a page of their own: at a desk, unless told otherwise. */
export async function openAs(
  browser: Browser,
  origin: string,
  who: string,
  to: string,
  options: BrowserContextOptions = {},
): Promise<Page> {
  const page = await (await browser.newContext({ viewport: desk, ...options })).newPage();
  await signIn(page, origin, who, to);
  return page;
}
