import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeFinds } from '../support/axe-finds';
import { launchChromium, phone } from '../support/chromium';
import { type Served, serveProduct } from '../support/serve-product';

const folder = mkdtempSync(join(tmpdir(), 'idlemark-first-run-'));
const terminalFile = join(folder, 'terminal');
let served: Served;
let browser: Browser;
let page: Page;
beforeAll(async () => {
  served = await serveProduct(
    { IDLEMARK_DATA: join(folder, 'database') },
    { units: 0, terminalFile },
  );
  browser = await launchChromium();
  page = await (await browser.newContext({ viewport: phone })).newPage();
});
afterAll(async () => {
  await browser?.close();
  await served?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const said = (text: RegExp) => page.getByRole('status').filter({ hasText: text }).first().waitFor();
const open = (path: string) => page.goto(served.origin + path);

describe('an empty database', () => {
  it('takes its first admin by the code at the terminal, and by no other', async () => {
    const printed = /([0-9A-Z]{5}-){3}[0-9A-Z]{5}/.exec(readFileSync(terminalFile, 'utf8'));
    const code = printed?.[0] ?? '';
    expect(code).not.toBe('');
    await open('/');
    await page.getByRole('link', { name: 'Nobody is on record yet: make the first admin' }).click();
    await page.getByRole('heading', { name: 'Begin with the first admin' }).waitFor();
    expect(await axeFinds(page)).toEqual([]);
    await page.fill('#code', 'AAAAA-BBBBB-CCCCC-DDDDD');
    await page.fill('#name', 'Kit Rowan');
    await page.fill('#email', 'kit@tarn.example');
    await page.fill('#password', 'a few words of one admin');
    const make = page.getByRole('button', { name: 'Make the first admin' });
    await make.click();
    await page.getByText('That code is not one that the server printed.').waitFor();
    expect(await page.inputValue('#name')).toBe('Kit Rowan');
    await page.fill('#code', code);
    await make.click();
    await page.waitForURL(`${served.origin}/people`);
    await page.getByText('No shed is on record.').waitFor();
    await open('/first-run');
    expect(page.url()).toBe(`${served.origin}/people`);
  });

  it('gets a shed, a gauge and a technician from the admin', async () => {
    await open('/sheds');
    await page.getByText('No shed is on record yet.').waitFor();
    await page.fill('#shedId', 'ridge');
    await page.fill('#name', 'Ridge shed');
    await page.fill('#elevation', '7,000');
    await page.fill('#timeZone', 'America/Denver');
    await page.fill('#bayHoursPerWeek', '12');
    const add = page.getByRole('button', { name: 'Add the shed' });
    await add.click();
    await page.getByText('The comma could mean two things.').first().waitFor();
    await page.fill('#elevation', '7000');
    await add.click();
    const row = page.getByRole('row', { name: /Ridge shed/ });
    await row.waitFor();
    // US Standard Atmosphere 1976: 78.2 kPa, which is 11.3 psi, at 2,134 m.
    await row.getByRole('cell', { name: '2134', exact: true }).waitFor();
    await row.getByRole('cell', { name: '11.3 psi', exact: true }).waitFor();
    await page.fill('#gaugeId-gauge', 'ridge-1');
    await page.fill('#label-gauge', 'Dial gauge of the first bay');
    await page.getByRole('button', { name: 'Add the gauge' }).click();
    await page.getByRole('row', { name: /Dial gauge of the first bay/ }).waitFor();
    expect(await axeFinds(page)).toEqual([]);
    await open('/people');
    await page.fill('#name', 'Tal Venn');
    await page.fill('#email', 'tal@tarn.example');
    await page.fill('#badge', 'T-12');
    await page.getByLabel('Ridge shed').check();
    await page.getByRole('button', { name: 'Invite and make a code' }).click();
    await said(/Hand Tal Venn this code yourself/);
  });

  it('has a shed corrected, which the ledger keeps', async () => {
    await open('/sheds');
    await page.getByRole('button', { name: 'Change Ridge shed' }).click();
    const dialog = page.getByRole('dialog', { name: 'Ridge shed' });
    expect(await dialog.getByLabel('Elevation in').inputValue()).toBe('m');
    await dialog.getByLabel('Elevation', { exact: true }).fill('2100');
    await dialog.getByRole('button', { name: 'Change it' }).click();
    await dialog.getByText('Changed.').waitFor();
    await dialog.getByRole('button', { name: 'Close' }).click();
    const row = page.getByRole('row', { name: /Ridge shed/ });
    await row.getByRole('cell', { name: '2100', exact: true }).waitFor();
  });
});
