import { readFileSync } from 'node:fs';
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

const field = (page: Page, name: string) => page.locator(`#${name}`);

interface Keyed {
  readonly number: string;
  readonly kind?: string;
  /** Cells of each range by name. */
  readonly ranges: readonly Readonly<Record<string, string>>[];
}

/** Keys a bulletin into the form and asks for the preview. */
async function keyBulletin(page: Page, { number, kind, ranges }: Keyed): Promise<string> {
  const words = {
    number,
    issue: '1',
    title: `Journey ${number}`,
    issuedOn: '2026-01-15',
    hours: '0.5',
    source: 'Invented maker',
    conditions: 'The clip may work loose.',
    actions: 'Look at the clip.',
  };
  for (const [name, value] of Object.entries(words)) await field(page, name).fill(value);
  if (kind) await field(page, 'kind').selectOption(kind);
  for (const [index, cells] of ranges.entries()) {
    if (index > 0) await page.getByRole('button', { name: 'Add a range' }).click();
    for (const [cell, value] of Object.entries(cells)) {
      await field(page, `r${index}-${cell}`).fill(value);
    }
  }
  await page.getByRole('button', { name: 'Preview the counts' }).click();
  return (await page.getByText(/^Applies to \d+, undecided for/).textContent()) ?? '';
}

async function enterPreviewed(page: Page): Promise<string> {
  await page.getByRole('button', { name: 'Enter the bulletin' }).click();
  await page.waitForURL(/\/effectivity\/bulletins\//);
  return page.url().split('/').at(-1) ?? '';
}

/** A unit of a shed that may go out, with the end of its VIN, which names it within its model. */
async function someUnit(page: Page, shed: string, taken: readonly string[] = []) {
  const answer = await page.request.get(`${origin}/api/v1/units?mark=Holding&shed=${shed}`);
  const text = await answer.text();
  const { rows } = JSON.parse(text) as { rows: { unit: string }[] };
  for (const { unit: unitId } of rows) {
    if (taken.includes(unitId)) continue;
    await page.goto(`${origin}/units/${unitId}`);
    const heading = page.getByRole('heading', { name: /^By the VIN/ });
    const vin = /[A-Z0-9]{17}$/.exec((await heading.textContent()) ?? '')?.[0];
    const model = await page.locator('dt:text-is("Model") + dd').first().textContent();
    if (vin && model) {
      return { unitId, range: { model, vinFrom: vin.slice(-3), vinTo: vin.slice(-3) } };
    }
  }
  throw new Error(`${shed} has no unit with a VIN among ${text.slice(0, 200)}`);
}

describe('bulletins', () => {
  it('are entered with two ranges after a preview that must be of the same text', async () => {
    const page = await signIn('ines', '/effectivity/new');
    expect(await axeFinds(page)).toEqual([]);
    const one = { make: 'Corvane', builtFrom: '2018-01' };
    const two = { make: 'Aldmoor', modelYearFrom: '2016', modelYearTo: '2030' };
    const wide = await keyBulletin(page, { number: 'J-1', ranges: [one, two] });
    const applies = (text: string) => Number(/Applies to (\d+)/.exec(text)?.[1]);
    expect(applies(wide)).toBeGreaterThan(0);
    expect(await axeFinds(page)).toEqual([]);

    // Changed after the preview: entering shows the new counts instead.
    await field(page, 'r1-make').fill('Nobody');
    await page.getByRole('button', { name: 'Enter the bulletin' }).click();
    await expect
      .poll(async () => applies((await page.getByText(/^Applies to/).textContent()) ?? ''))
      .toBeLessThan(applies(wide));
    expect(page.url()).toContain('/effectivity/new');

    await page.getByRole('button', { name: 'Remove range 2' }).click();
    await page.getByRole('button', { name: 'Preview the counts' }).click();
    await expect.poll(() => field(page, 'r1-make').count()).toBe(0);
    await page.getByRole('button', { name: 'Enter the bulletin', disabled: false }).waitFor();
    await page.getByRole('button', { name: 'Add a range' }).click();
    await field(page, 'r1-builtFrom').fill('2018-13');
    await page.getByRole('button', { name: 'Preview the counts' }).click();
    await page.getByRole('alert').getByText('It is no month, such as 2018-11').waitFor();
    await field(page, 'r1-builtFrom').fill('2019-01');
    await field(page, 'r1-make').fill('Aldmoor');
    await page.getByRole('button', { name: 'Preview the counts' }).click();
    await page.getByText(/^Applies to/).waitFor();
    await page.locator('[role=status]:focus', { hasText: 'Applies to' }).waitFor();
    const id = await enterPreviewed(page);
    const ranges = page.locator('section', { hasText: 'the units of any of these ranges' }).last();
    expect(await ranges.locator('li').count()).toBe(2);
    expect(await axeFinds(page)).toEqual([]);

    // Refused on one unit, by keys alone.
    await page.goto(`${origin}/effectivity?bulletin=${id}&status=open`);
    const unit = page.locator('#chosen').getByRole('rowheader').getByRole('link').first();
    await page.goto(`${origin}${await unit.getAttribute('href')}`);
    const refuse = page.getByRole('button', { name: 'Refuse until then' });
    await refuse.press('Enter');
    await page.locator('[role=alert]:focus', { hasText: '2 things to mend' }).waitFor();
    await field(page, 'reason').press('L');
    await field(page, 'reviewOn').fill('2030-01-15');
    await refuse.press('Enter');
    await page.locator('[role=status]:focus', { hasText: 'On record.' }).waitFor();
    expect(await page.locator('h1').textContent()).toContain('refused');
    await page.goto(`${origin}/effectivity?bulletin=${id}`);
    await page.getByText('✕ 1 refused').first().waitFor();
    await page.setViewportSize({ width: 360, height: 740 });
    await page.emulateMedia({ media: 'print' });
    const overflow = await page.evaluate('document.documentElement.scrollWidth - innerWidth');
    expect(overflow).toBe(0);
    await page.context().close();
  });

  it('stand nothing down before the safety officer approves, and then what was shown', async () => {
    const desk = await signIn('ines', '/effectivity/new');
    const { unitId, range } = await someUnit(desk, 'river');
    await desk.goto(`${origin}/effectivity/new`);
    const kind = 'do not drive until done';
    await keyBulletin(desk, { number: 'J-2', kind, ranges: [range] });
    await desk.getByText('when a safety officer approves it').waitFor();
    const id = await enterPreviewed(desk);
    await desk.getByText('A safety officer who did not enter it approves it.').waitFor();
    await desk.goto(`${origin}/units/${unitId}`);
    expect(await desk.locator('h1').textContent()).toContain('Holding');
    await desk.context().close();

    const officer = await signIn('rhea', `/effectivity/bulletins/${id}`);
    await officer.getByText('would be stood down').waitFor();
    expect(await axeFinds(officer)).toEqual([]);
    await officer.getByRole('button', { name: /^Approve and stand/ }).focus();
    await officer.keyboard.press('Enter');
    await officer.getByText('Do not drive until done: approved').waitFor();
    await officer.locator('[role=status]:focus', { hasText: '1 unit stood down' }).waitFor();
    await officer.goto(`${origin}/units/${unitId}`);
    expect(await officer.locator('h1').textContent()).toContain('Out of service');
    await officer.goto(`${origin}/stand-down`);
    await officer.getByText('J-2').first().waitFor();
    await officer.context().close();
  });

  it('are placed from the matrix and done through a work order', async () => {
    const desk = await signIn('ines', '/effectivity/new');
    const { unitId, range } = await someUnit(desk, 'ridge');
    await desk.goto(`${origin}/effectivity/new`);
    await keyBulletin(desk, { number: 'J-3', ranges: [range] });
    const id = await enterPreviewed(desk);
    await desk.goto(`${origin}/effectivity?bulletin=${id}`);
    for (const box of await desk.locator('input[name=units]').all()) {
      await box.setChecked((await box.inputValue()) === unitId);
    }
    await desk.getByRole('button', { name: 'Place the chosen in the bay plan' }).click();
    await desk.getByRole('link', { name: /^order \d+/ }).waitFor();
    await desk.goto(`${origin}/units/${unitId}/bulletins/${id}`);
    expect(await desk.locator('h1').textContent()).toContain('planned');
    const order = await desk.locator('a[href^="/work-orders/"]').last().textContent();
    const file = await desk.request.get(`${origin}/effectivity/csv?bulletin=${id}`);
    const rows = parse(await file.text(), { columns: true }) as Record<string, string>[];
    expect(rows.find(({ unit }) => unit === unitId)).toMatchObject({
      bulletin: 'J-3',
      status: 'planned',
      'work order': order,
    });
    await desk.context().close();

    const bay = await signIn('ode', `/work-orders/${order}`);
    await bay.getByText('To do Look at the clip.').waitFor();
    await bay.getByRole('button', { name: 'Begin the work' }).click();
    await bay.getByLabel('Done', { exact: true }).first().check();
    await bay.locator('#foundCause').selectOption('none shown');
    await bay.getByRole('button', { name: /^Finish/ }).click();
    await bay.getByRole('heading', { name: 'Closed' }).waitFor();
    await bay.goto(`${origin}/units/${unitId}/bulletins/${id}`);
    expect(await bay.locator('h1').textContent()).toContain('done');
    expect(await bay.getByRole('table').textContent()).toContain('Ode Marrit');
    expect(await axeFinds(bay)).toEqual([]);
    await bay.context().close();
  });

  it('keep their notice as a file, refuse what is none, and give it to nobody signed out', async () => {
    const page = await signIn('ines', '/effectivity');
    await page
      .getByRole('link', { name: /^SB-14/ })
      .first()
      .click();
    await page.getByRole('heading', { name: 'The notice' }).waitFor();
    const attach = async (name: string, text: string) => {
      const buffer = Buffer.from(text, 'latin1');
      await page
        .locator('#attachment')
        .setInputFiles({ name, mimeType: 'application/pdf', buffer });
      await page.getByRole('button', { name: 'Attach', exact: true }).click();
    };
    await attach('page.pdf', '<script>alert(1)</script>');
    await page.getByText('The file is no PDF.').waitFor();
    await attach('SB 14 é.pdf', '%PDF-1.7\n%\xe2\xe3\n%%EOF\n');
    const link = page.getByRole('link', { name: /^Load SB 14/ });
    await link.waitFor();
    const address = `${origin}${await link.getAttribute('href')}`;
    const answer = await page.request.get(address);
    expect(answer.headers()['content-type']).toBe('application/pdf');
    expect(answer.headers()['content-disposition']).toContain('attachment; filename="SB 14 _.pdf"');
    expect(answer.headers()['x-content-type-options']).toBe('nosniff');
    expect(await answer.body()).toEqual(Buffer.from('%PDF-1.7\n%\xe2\xe3\n%%EOF\n', 'latin1'));
    expect((await fetch(address)).status).toBe(401);
    const elsewhere = { method: 'POST', headers: { origin: 'http://elsewhere.example' } };
    expect((await fetch(address, elsewhere)).status).toBe(403);
    await page.context().close();
    const bay = await signIn('ode', '/bay');
    const headers = { origin, 'x-file-name': 'x.pdf' };
    const body = { data: '%PDF-1.7 %%EOF', headers };
    expect((await bay.request.post(address, body)).status()).toBe(403);
    await bay.context().close();
  });

  it('import a file: tried first, refused rows named, then kept once', async () => {
    const page = await signIn('ines', '/effectivity/import');
    const header =
      'number,issue,title,issued_on,kind,conditions,actions,hours,source,make,built_from\r\n';
    const good =
      'J-9,1,Clip,2026-01-15,information,"Loose, at times.",Look.,0,Maker,Corvane,2019-01';
    const choose = async (body: string) => {
      const buffer = Buffer.from(header + body);
      await page
        .locator('#file')
        .setInputFiles({ name: 'notices.csv', mimeType: 'text/csv', buffer });
      await page.getByRole('button', { name: 'Try it, keep nothing' }).click();
    };
    await choose(`${good}\r\nJ-9,1,,,,,,,,Aldmoor,2019-14\r\n`);
    const refused = page.getByRole('row', { name: /built_from/ });
    expect(await refused.textContent()).toContain('3');
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Refused rows, CSV' }).click(),
    ]);
    expect(readFileSync(await file.path(), 'utf8')).toMatch(/^3,built_from,/m);
    expect(await axeFinds(page)).toEqual([]);
    await choose(`${good}\r\nJ-9,1,,,,,,,,Aldmoor,2019-01\r\n`);
    await page.getByText('1 bulletin would be entered').waitFor();
    await page.getByRole('button', { name: 'Import notices.csv' }).click();
    await page.getByText('1 bulletin entered, 0 on record already').waitFor();
    await choose(`${good}\r\nJ-9,1,,,,,,,,Aldmoor,2019-01\r\n`);
    await page.getByText('0 bulletins would be entered, 1 on record already').waitFor();
    const other = header.replace('make', 'Brand').replace('built_from', 'Remark');
    const buffer = Buffer.from(`${other}${good.replace('J-9', 'J-10')}\r\n`);
    const chooseOther = () =>
      page.locator('#file').setInputFiles({ name: 'other.csv', mimeType: 'text/csv', buffer });
    await chooseOther();
    await page.getByRole('button', { name: 'Try it, keep nothing' }).click();
    await page.getByText('Columns of the file, 2 to say what they hold').waitFor();
    await page.getByLabel('Brand').selectOption('make');
    await page.getByLabel('Remark').selectOption('not to be read');
    await page.getByRole('button', { name: 'Try it, keep nothing' }).click();
    await page.getByText('1 bulletin would be entered').waitFor();
    expect(await axeFinds(page)).toEqual([]);
    await page.goto(`${origin}/effectivity/import`);
    await chooseOther();
    await page.getByRole('button', { name: 'Try it, keep nothing' }).click();
    await page.getByText('Columns of the file, as they were read the last time').waitFor();
    await page.getByText('1 bulletin would be entered').waitFor();
    // More bulletins than paper has columns: those of each build range follow its name.
    await page.goto(`${origin}/effectivity`);
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('thead').isVisible()).toBe(false);
    const before = `getComputedStyle(document.querySelector('td a'), '::before').content`;
    expect(await page.evaluate(before)).toMatch(/^"?(SB|J)-/);
    expect(await page.locator('td:has([data-empty])').first().isVisible()).toBe(false);
    await page.emulateMedia({ media: 'screen' });
    await page.goto(`${origin}/effectivity/undecided`);
    await page.getByRole('heading', { name: 'Undecided' }).waitFor();
    expect(await axeFinds(page)).toEqual([]);
    await page.context().close();
  });
});
