import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright-core';

/** What axe finds wrong with a page: the rule, and the first element that breaks it. */
export async function axeFinds(page: Page, ...rules: readonly string[]): Promise<string[]> {
  const axe = new AxeBuilder({ page });
  if (rules.length > 0) axe.withRules([...rules]);
  const { violations } = await axe.analyze();
  return violations.map(({ id, nodes }) => `${id} ${nodes[0]?.html}`);
}
