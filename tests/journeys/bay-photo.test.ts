import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, it } from 'vitest';
import { axeFinds } from '../support/axe-finds';
import { holdingUnit, onAPhone, pick, screens } from '../support/bay-phone';
import { BayThumb, soundReading } from '../support/bay-thumb';
import { launchChromium } from '../support/chromium';
import { signedInAs, Visitor } from '../support/visitor';

const origin = inject('origin');
let browser: Browser;

beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(() => browser?.close());

it('a photo of the line taken without signal is made small, follows its reading and shows on the sheet', async () => {
  const { context, page, snapshot } = await onAPhone(browser, origin);
  const unit = holdingUnit(snapshot, 2);
  const large = await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [2600, 1900];
    const pen = canvas.getContext('2d') as CanvasRenderingContext2D;
    for (let at = 0; at < 2000; at++) {
      pen.fillStyle = `hsl(${(at * 47) % 360} 60% 50%)`;
      pen.fillRect((at * 131) % 2600, (at * 71) % 1900, 90, 60);
    }
    return canvas.toDataURL('image/png').split(',')[1] ?? '';
  });
  const line = { name: 'line.png', mimeType: 'image/png', buffer: Buffer.from(large, 'base64') };
  const notes = { name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('no picture') };
  const thumb = new BayThumb(page);
  await context.setOffline(true);
  await pick(thumb, unit.id);
  for (const { on, do: touch } of soundReading(unit.odometer)) {
    await thumb.sees(on);
    if (String(on).includes('Look inside')) {
      await page.setInputFiles('input[type=file]', line);
      await page.getByText('Kept with this reading').waitFor();
      const shown = page.getByRole('img', { name: 'The line, as taken' });
      await shown.waitFor();
      expect(await axeFinds(page)).toEqual([]);
      expect(await screens(page)).toBeLessThanOrEqual(0);
      // The one that is kept stays in sight when another cannot be taken, until it is removed.
      await page.setInputFiles('input[type=file]', notes);
      await page.getByText('That is no picture that this browser can read.').waitFor();
      await shown.waitFor();
      await thumb.tap('Remove');
      await page.getByText('Optional').waitFor();
      expect(await shown.count()).toBe(0);
      await page.setInputFiles('input[type=file]', line);
      await shown.waitFor();
    }
    await touch(thumb);
  }
  await thumb.tap('Put on record');
  await page.getByText('Kept on this device.').waitFor();
  const sent = page.waitForResponse((answer) => answer.url().endsWith('/photo'));
  await context.setOffline(false);
  expect((await sent).status()).toBe(200);
  await page.goto(`${origin}/units/${unit.id}`);
  const link = page.getByRole('link', { name: 'Photo of the line' });
  const address = (await link.first().getAttribute('href')) ?? '';
  const visitor = await signedInAs(origin, 'tal');
  const shown = await visitor.get(address);
  expect(shown.headers.get('content-type')).toBe('image/jpeg');
  const bytes = Buffer.from(await shown.arrayBuffer());
  expect(bytes.subarray(0, 3)).toEqual(Buffer.from([0xff, 0xd8, 0xff]));
  expect(bytes.length).toBeLessThan(500_000);

  const put = (body: string, headers: Record<string, string>) =>
    visitor.ask('PUT', address, { body, headers: { origin, ...headers } });
  expect((await put('x', { 'content-type': 'image/png' })).status).toBe(415);
  expect((await put('x', { 'content-type': 'image/jpeg' })).status).toBe(422);
  expect((await put('x'.repeat(500_001), { 'content-type': 'image/jpeg' })).status).toBe(413);
  expect((await new Visitor(origin).get(address)).status).toBe(401);
  await context.close();
});
