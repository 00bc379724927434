'use client';

import type { ChangeEvent } from 'react';
import { Field, SelectField } from '@/app/_ui/field';
import {
  bodies,
  bulletinFilters,
  firstYardQuery,
  standings,
  type YardQuery,
} from '@/lib/intake/yard-query';
import styles from './yard.module.css';
import type { YardFiltersProps } from './yard-filters';

/** Filters that are asked for less often; open while one of them narrows. */
export function MoreFilters({ query, choices, onChange }: YardFiltersProps) {
  const chosen = (name: keyof YardQuery) => (event: ChangeEvent<HTMLSelectElement>) =>
    onChange({ ...query, [name]: event.target.value || null });
  const models = choices.makes.find(({ make }) => make === query.make)?.models ?? [];
  const more = [
    ...[query.make, query.body, query.builtFrom, query.builtTo, query.bulletin],
    query.range,
  ];
  const moreCount =
    more.filter((value) => value !== null).length + (query.standing === 'in use' ? 0 : 1);

  return (
    <details className={styles.more} open={moreCount > 0 || undefined}>
      <summary>More filters{moreCount > 0 && ` (${moreCount})`}</summary>
      <div className={styles.filters}>
        <SelectField
          id="make"
          label="Make"
          value={query.make ?? ''}
          onChange={(event) =>
            onChange({ ...query, make: event.target.value || null, model: null })
          }
        >
          <option value="">All makes</option>
          {choices.makes.map(({ make }) => (
            <option key={make}>{make}</option>
          ))}
        </SelectField>
        <SelectField
          id="model"
          label="Model"
          value={query.model ?? ''}
          onChange={chosen('model')}
          disabled={query.make === null}
        >
          <option value="">All models</option>
          {models.map((model) => (
            <option key={model}>{model}</option>
          ))}
        </SelectField>
        <SelectField id="body" label="Body" value={query.body ?? ''} onChange={chosen('body')}>
          <option value="">All bodies</option>
          {bodies.map((body) => (
            <option key={body}>{body}</option>
          ))}
        </SelectField>
        <MonthField
          id="from"
          label="Built from"
          month={query.builtFrom}
          onMonth={(builtFrom) => onChange({ ...query, builtFrom })}
        />
        <MonthField
          id="to"
          label="Built to"
          month={query.builtTo}
          onMonth={(builtTo) => onChange({ ...query, builtTo })}
        />
        <SelectField
          id="bulletin"
          label="Bulletins"
          value={query.bulletin ?? ''}
          onChange={chosen('bulletin')}
        >
          <option value="">Any</option>
          {bulletinFilters.map((status) => (
            <option key={status}>{status}</option>
          ))}
        </SelectField>
        {query.range !== null && (
          <SelectField
            id="range"
            label="Build range"
            value={query.range}
            onChange={chosen('range')}
          >
            <option>{query.range}</option>
            <option value="">Any</option>
          </SelectField>
        )}
        <SelectField
          id="standing"
          label="Standing"
          value={query.standing}
          onChange={(event) => {
            const standing = event.target.value as YardQuery['standing'];
            const mark = standing === 'in use' ? firstYardQuery.mark : null;
            onChange({ ...query, standing, mark });
          }}
        >
          {standings.map((standing) => (
            <option key={standing}>{standing}</option>
          ))}
        </SelectField>
      </div>
    </details>
  );
}

interface MonthFieldProps {
  readonly id: string;
  readonly label: string;
  readonly month: string | null;
  readonly onMonth: (month: string | null) => void;
}

/** A month such as 2019-03; an unfinished one does not narrow yet. */
function MonthField({ id, label, month, onMonth }: MonthFieldProps) {
  return (
    <Field
      id={id}
      key={month}
      label={label}
      placeholder="2019-03"
      inputMode="numeric"
      size={8}
      pattern="(19|20)[0-9]{2}-(0[1-9]|1[0-2])"
      defaultValue={month ?? ''}
      onBlur={(event) => {
        const text = event.target.value.trim();
        if (text !== (month ?? '') && event.target.validity.valid) onMonth(text || null);
      }}
    />
  );
}
