import jsQR from 'jsqr';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { axeFinds } from '../support/axe-finds';
import { onAPhone, screens } from '../support/bay-phone';
import { BayThumb } from '../support/bay-thumb';
import { launchChromium, signIn } from '../support/chromium';

const origin = inject('origin');
let browser: Browser;

beforeAll(async () => {
  browser = await launchChromium(
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
  );
});
afterAll(() => browser?.close());

/** A picture of the screen as pixels, decoded by the browser. */
async function pixelsOf(page: Page, picture: Buffer) {
  const { data, width, height } = await page.evaluate(
    async (url) => {
      const image = new Image();
      image.src = url;
      await image.decode();
      const canvas = document.createElement('canvas');
      [canvas.width, canvas.height] = [image.width, image.height];
      const context = canvas.getContext('2d') as CanvasRenderingContext2D;
      context.drawImage(image, 0, 0);
      const { data } = context.getImageData(0, 0, image.width, image.height);
      return { data: [...data], width: image.width, height: image.height };
    },
    `data:image/png;base64,${picture.toString('base64')}`,
  );
  return { data: Uint8ClampedArray.from(data), width, height };
}

describe('unit tags', () => {
  it('print a code for each unit that an independent reader reads as its bay card', async () => {
    const context = await browser.newContext({ viewport: { width: 1000, height: 900 } });
    const page = await context.newPage();
    await signIn(page, origin, 'ines', '/yard');
    await page.goto(`${origin}/yard/tags?mark=all&sort=unit`);
    await page.emulateMedia({ media: 'print' });
    const tags = page.locator('main li');
    expect(await tags.count()).toBeGreaterThan(20);
    for (const nth of [0, 7]) {
      const tag = tags.nth(nth);
      const unit = await tag.locator('p').first().textContent();
      const { data, width, height } = await pixelsOf(page, await tag.locator('svg').screenshot());
      expect(jsQR(data, width, height)?.data).toBe(`${origin}/bay?unit=${unit}`);
    }
    await context.close();
  });

  it('open the card on their unit, from any camera or from the card’s own', async () => {
    const { context, page, snapshot } = await onAPhone(browser, origin);
    const unit = snapshot.units.find(({ mark }) => mark === 'Holding');
    if (!unit) throw new Error('the demo has units that hold');
    const address = `${origin}/bay?unit=${unit.id}`;
    const thumb = new BayThumb(page);
    await page.goto(address);
    await thumb.sees('Before you start');
    await page.getByText(`Unit ${unit.id}`).waitFor();
    await thumb.tap('Back');
    await thumb.sees('Which unit?');
    await page.goto(`${origin}/bay?unit=NONE-1`);
    await page.getByText('The tag names NONE-1: no unit of your sheds.').waitFor();

    // Chromium on a desktop has no detector: one that sees the tag stands in for it.
    await page.addInitScript((seen) => {
      Object.assign(window, {
        BarcodeDetector: class {
          detect = async () => (Object.hasOwn(window, 'isTagHeld') ? [{ rawValue: seen }] : []);
        },
      });
    }, address);
    await page.goto(`${origin}/bay`);
    await thumb.tap('Scan the tag');
    await thumb.sees('Unit tag');
    expect(await screens(page)).toBeLessThanOrEqual(0);
    expect(await axeFinds(page)).toEqual([]);
    await page.evaluate(() => Object.assign(window, { isTagHeld: true }));
    await thumb.sees('Before you start');
    await page.getByText(`Unit ${unit.id}`).waitFor();

    await page.addInitScript(() => {
      navigator.mediaDevices.getUserMedia = async () => {
        throw new DOMException('Permission denied', 'NotAllowedError');
      };
    });
    await page.goto(`${origin}/bay`);
    await thumb.tap('Back');
    await thumb.tap('Scan the tag');
    await page.getByText(/^The camera cannot be used\. Allow it /).waitFor();
    expect(await axeFinds(page)).toEqual([]);
    await thumb.tap('Key a unit');
    await thumb.sees('Unit number');
    await context.close();
  });

  it('are keyed where the browser cannot scan, and the card says so', async () => {
    const { context, page } = await onAPhone(browser, origin);
    await page.evaluate(() => Reflect.deleteProperty(window, 'BarcodeDetector'));
    await new BayThumb(page).tap('Key a unit');
    await page.getByText('This browser cannot scan tags: key the number under the code.').waitFor();
    await context.close();
  });
});
