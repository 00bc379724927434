import { describe, expect, it } from 'vitest';
import { causes } from '@/lib/analysis/assessment';
import { tasksFor } from '@/lib/work-orders/tasks-for';

describe('tasksFor', () => {
  it('fits the work to the rule, then to the cause, and ends it with a proof', () => {
    expect(tasksFor('belt due', 'pump')).toEqual(['belt', 'proof']);
    expect(tasksFor('wear score', 'leak')).toEqual(['leak search', 'proof']);
    expect(tasksFor('wear score', 'none shown')).toEqual(['pump', 'proof']);
    expect(tasksFor('bulletin due', 'pump')).toBeNull();
    for (const cause of causes) expect(tasksFor('idle caution', cause)?.at(-1)).toBe('proof');
  });
});
