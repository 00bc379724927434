import { Button, LinkButton } from '@/app/_ui/button';
import { Field, SelectField } from '@/app/_ui/field';
import styles from './ledger.module.css';
import type { LedgerSearch } from './ledger-search';

interface LedgerFiltersProps {
  readonly search: LedgerSearch;
  readonly choices: {
    readonly kinds: readonly string[];
    readonly people: readonly { readonly id: string; readonly name: string }[];
  };
}

export function LedgerFilters({ search, choices }: LedgerFiltersProps) {
  return (
    <form action="/ledger" className={`${styles.filters} no-print`}>
      <Field id="unit" name="unit" label="Unit" defaultValue={search.unit} />
      <SelectField id="person" name="person" label="Person" defaultValue={search.person ?? ''}>
        <option value="">Anyone</option>
        {choices.people.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </SelectField>
      <SelectField id="kind" name="kind" label="Kind" defaultValue={search.kind ?? ''}>
        <option value="">Any kind</option>
        {choices.kinds.map((kind) => (
          <option key={kind} value={kind}>
            {kind}
          </option>
        ))}
      </SelectField>
      <Field id="from" name="from" type="date" label="From (UTC)" defaultValue={search.from} />
      <Field id="to" name="to" type="date" label="To (UTC)" defaultValue={search.to} />
      <Field
        id="entry"
        name="entry"
        label="Entry"
        inputMode="numeric"
        defaultValue={search.entry}
      />
      <div className="row">
        <Button type="submit" main>
          Search
        </Button>
        <LinkButton href="/ledger">Clear</LinkButton>
      </div>
    </form>
  );
}
