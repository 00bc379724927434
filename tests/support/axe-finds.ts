import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe finds wrong with a page: the rule, and the first element that breaks it. No page has frames. */
export async function axeFinds(page: Page, ...rules: readonly string[]): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(source);
  const options: axe.RunOptions = rules.length > 0 ? { runOnly: [...rules] } : {};
  return page.evaluate(async (options) => {
    const { violations } = await (window as unknown as { axe: typeof axe }).axe.run(options);
    return violations.map(({ id, nodes }) => `${id} ${nodes[0]?.html}`);
  }, options);
}
