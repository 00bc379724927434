import { z } from 'zod';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { ruleWords } from '@/lib/bulletins/rule-words';

const noted = z.object({
  number: z.string(),
  issue: z.string(),
  kind: z.string(),
  rule: z.unknown(),
  requiredParts: z.string(),
  source: z.string(),
  supersedes: z.string().nullable(),
  doesDoneCarry: z.boolean(),
  unitsTouched: z.number(),
});

/** The words of a rule name ages in months, whatever the day. */
const anyDay = 0;

/**
 * A bulletin as the ledger notes it, in words. Null for anything else, such as a rule that an earlier
 * version of the product wrote otherwise.
 *
 * Example: `SB-7 issue 1, recommended: model is Alder 1; 12 units covered or undecided; source: maker`.
 */
export function bulletinWords(payload: unknown): string | null {
  const read = noted.safeParse(payload);
  const rule = read.success ? parseRule(read.data.rule) : null;
  if (!read.success || !rule?.ok) return null;
  const { number, issue, kind, requiredParts, source, supersedes, doesDoneCarry } = read.data;
  const { unitsTouched: units } = read.data;
  return [
    `${number} issue ${issue}, ${kind}: ${ruleWords(rule.value, anyDay).join(', or ')}`,
    requiredParts && `needs ${requiredParts}`,
    supersedes && `replaces ${supersedes}${doesDoneCarry ? ', whose work counts' : ''}`,
    `${units} ${units === 1 ? 'unit' : 'units'} covered or undecided`,
    `source: ${source}`,
  ]
    .filter(Boolean)
    .join('; ');
}
