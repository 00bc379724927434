import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { axeFinds } from '../support/axe-finds';
import { launchChromium, openAs, phone } from '../support/chromium';

const origin = inject('origin');
let browser: Browser;
let page: Page;
let unitId = '';
beforeAll(async () => {
  browser = await launchChromium();
  page = await openAs(browser, origin, 'ines', '/imports');
  const listed = await page.request.get(`${origin}/api/v1/units?mark=all`);
  const { rows } = (await listed.json()) as { rows: readonly { unit: string }[] };
  unitId = rows[3]?.unit ?? '';
});
afterAll(() => browser?.close());

const fileOf = (name: string, text: string) => ({
  name,
  mimeType: 'text/csv',
  buffer: Buffer.from(text),
});

async function send(name: string, text: string): Promise<void> {
  await page.goto(`${origin}/imports`);
  await page.getByLabel('What it holds').selectOption('readings');
  await page.getByLabel('CSV file').setInputFiles(fileOf(name, text));
  await page.getByRole('button', { name: 'Send', exact: true }).click();
  await page.getByRole('heading', { name, level: 1 }).waitFor();
}

async function check(): Promise<void> {
  await page.getByRole('button', { name: 'Check the file' }).click();
  await page.getByRole('heading', { name: 'What would become of the rows' }).waitFor();
}

const count = (term: string) =>
  page.locator('dt', { hasText: term }).locator('xpath=following-sibling::dd[1]').textContent();

/** What axe finds, and whether the page can be read without moving it sideways. */
async function looks() {
  const found = await axeFinds(page);
  const width = await page.evaluate('document.documentElement.scrollWidth - innerWidth');
  return { found, isTooWide: Number(width) > 0 };
}
const sound = { found: [], isTooWide: false };

describe('the fleet manager imports a file', () => {
  const good = () =>
    `${unitId};J1;2020-03-02;13,1\r\n${unitId};J2;2020-06-02;13,0\r\n${unitId};J3;02.06.2020;13,0\r\n`;
  const file = () => `\ufeffUnit;Reading;Read on;Idle (psi)\r\n${good()}`;

  it('sees what would become of each row before any goes on record, and takes the refused ones home', async () => {
    await send('readings.csv', file());
    expect(await page.getByLabel('Idle vacuum', { exact: true }).inputValue()).toBe('Idle (psi)');
    await page.getByLabel('Decimals come after a').selectOption('comma');
    await check();
    expect([await count('New'), await count('Refused')]).toEqual(['2', '1']);
    expect(await looks()).toEqual(sound);
    await page.setViewportSize(phone);
    expect(await looks()).toEqual(sound);
    const refused = page.getByRole('link', { name: 'Refused rows, CSV' });
    const answer = await page.request.get(`${origin}${await refused.getAttribute('href')}`);
    const [, line] = (await answer.text()).split('\r\n');
    expect(line).toMatch(new RegExp(`^4,read_on,.*,${unitId},J3,02\\.06\\.2020,"13,0"$`));
    await page.setViewportSize({ width: 1440, height: 900 });
  });

  it('puts the good rows on record as one entry of the ledger', async () => {
    await page.getByRole('button', { name: 'Put 2 rows on record' }).click();
    await page.getByRole('heading', { name: 'What became of the rows' }).waitFor();
    await page.getByRole('link', { name: /^ledger entry \d+$/ }).click();
    const kind = page.getByText('rows imported').and(page.locator(':not(option)'));
    await kind.first().waitFor();
  });

  it('changes nothing with the same file, whose columns are remembered', async () => {
    await send('readings.csv', file());
    await page.getByText('As they were read the last time').waitFor();
    expect(await page.getByLabel('Decimals come after a').inputValue()).toBe('comma');
    await check();
    expect([await count('New'), await count('On record already')]).toEqual(['0', '2']);
    expect(await page.getByRole('button', { name: /on record$/ }).count()).toBe(0);
  });

  it('cancels, and nothing of the file is left', async () => {
    await send('again.csv', file().replaceAll('J', 'K'));
    await check();
    await page.getByRole('button', { name: 'Cancel the import' }).click();
    await page.getByText('readings. Cancelled.').waitFor();
    await page.goto(`${origin}/imports`);
    await page
      .getByRole('row', { name: /again\.csv/ })
      .getByText('Cancelled')
      .waitFor();
    expect(await looks()).toEqual(sound);
    await page.setViewportSize(phone);
    expect(await looks()).toEqual(sound);
    await page.setViewportSize({ width: 1440, height: 900 });
  });

  it('is told what is wrong with a file that cannot be read', async () => {
    await send('workbook.csv', 'PK\u0003\u0004 a workbook');
    await page.getByRole('alert').filter({ hasText: 'It is no plain text.' }).waitFor();
  });
});

describe('how long records are kept', () => {
  it('is proposed by the fleet manager and approved by a safety officer', async () => {
    await page.goto(`${origin}/limits`);
    const panel = page.locator('#retention');
    await panel.getByLabel('Years of readings').fill('0');
    await panel.getByLabel('Why').fill('Room');
    await panel.getByRole('button', { name: 'Propose these periods' }).click();
    await panel
      .getByRole('alert')
      .filter({ hasText: 'no period that a policy can have' })
      .waitFor();
    await panel.getByLabel('Years of readings').fill('15');
    await panel.getByRole('button', { name: 'Propose these periods' }).click();
    await panel.getByText('Proposed, why: Room').waitFor();
    await page.setViewportSize(phone);
    expect(await looks()).toEqual(sound);
    const officer = await openAs(browser, origin, 'rhea', '/limits');
    await officer.getByRole('button', { name: 'Approve the periods' }).click();
    await officer.locator('#retention').getByText('Years of readings: 15').waitFor();
    await officer.getByText('Proposed, why: Room').waitFor({ state: 'detached' });
  });

  it('has what is due counted and then purged by a safety officer, who signs in again', async () => {
    const officer = await openAs(browser, origin, 'rhea', '/limits');
    await officer.getByRole('link', { name: 'See what is due' }).click();
    await officer.getByRole('button', { name: 'Count what is due' }).click();
    await officer.getByText('Nothing is due.').waitFor();
    await officer.getByLabel('Units concerned').fill('3');
    await officer.getByLabel('Your password, again').fill('demo-only-not-secret');
    await officer.getByRole('button', { name: 'Purge for good' }).click();
    await officer
      .getByRole('alert')
      .filter({ hasText: 'So many units are not concerned now.' })
      .waitFor();
  });
});
