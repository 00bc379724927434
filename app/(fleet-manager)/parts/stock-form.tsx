import { Field, SelectField } from '@/app/_ui/field';
import { ActForm } from '@/app/(safety-officer)/act-form';
import { parts } from '@/lib/analysis/reading';
import { setPartStockAction } from './actions';
import type { StockOnList } from './parts-report';

interface StockFormProps {
  /** Null for a revision that is not on the list yet. */
  readonly part: StockOnList | null;
  /** Other revisions of the same part number. */
  readonly others: readonly string[];
}

/** Stock, lead time and successor of one part revision. */
export function StockForm({ part, others }: StockFormProps) {
  const suffix = part ? encodeURIComponent(`-${part.partNumber}-${part.revision}`) : '';
  const bound = (name: string, value: string | number) => ({
    id: `${name}${suffix}`,
    name,
    defaultValue: String(value),
  });
  return (
    <ActForm
      action={setPartStockAction}
      hidden={
        part
          ? {
              suffix,
              partNumber: part.partNumber,
              revision: part.revision,
              part: part.part,
              seenInStock: String(part.inStock),
              seenLeadTimeDays: String(part.leadTimeDays),
            }
          : { suffix, supersededBy: '' }
      }
      button={part ? 'Save' : 'Put on the list'}
      isMain
    >
      {!part && (
        <>
          <Field label="Part number" {...bound('partNumber', '')} maxLength={40} />
          <Field label="Revision" {...bound('revision', '')} maxLength={20} size={8} />
          <SelectField label="Part" {...bound('part', 'pump')}>
            {parts.map((one) => (
              <option key={one}>{one}</option>
            ))}
          </SelectField>
        </>
      )}
      <Field
        label="In stock"
        {...bound('inStock', part?.inStock ?? 0)}
        inputMode="numeric"
        size={6}
        suffix="pieces"
      />
      <Field
        label="Lead time"
        hint="From order to the shelf"
        {...bound('leadTimeDays', part?.leadTimeDays ?? 0)}
        inputMode="numeric"
        size={6}
        suffix="days"
      />
      <Field
        label="Description"
        {...bound('description', part?.description ?? '')}
        maxLength={120}
      />
      {part && (
        <SelectField label="Replaced by" {...bound('supersededBy', part.supersededBy ?? '')}>
          <option value="">Nothing</option>
          {others.map((one) => (
            <option key={one} value={one}>
              revision {one}
            </option>
          ))}
        </SelectField>
      )}
    </ActForm>
  );
}
