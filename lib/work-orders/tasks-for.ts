import type { Cause } from '@/lib/analysis/assessment';

export type WantedTask = 'pump' | 'belt' | 'line' | 'check valve' | 'leak search' | 'proof';

// Where the readings show no other cause, a limit or a forecast still asks for work: the pump wears.
const byCause: Record<Cause, readonly WantedTask[]> = {
  pump: ['pump', 'proof'],
  leak: ['leak search', 'proof'],
  'check valve': ['check valve', 'proof'],
  'restricted line': ['line', 'proof'],
  'slipping belt': ['belt', 'proof'],
  'none shown': ['pump', 'proof'],
  'cannot tell': ['leak search', 'proof'],
};

/**
 * The work that a unit's verdict asks for: the belt where the belt names the mark, else what the
 * probable cause wants, ended by a proof. Null where a bulletin names it: its own order says what to do.
 *
 * @example tasksFor('wear score', 'pump') is ['pump', 'proof']
 */
export function tasksFor(rule: string, cause: Cause): readonly WantedTask[] | null {
  if (rule.includes('bulletin')) return null;
  return rule.includes('belt') ? byCause['slipping belt'] : byCause[cause];
}
