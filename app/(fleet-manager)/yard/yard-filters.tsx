'use client';

import { type ChangeEvent, useEffect, useRef, useState } from 'react';
import { Field, SelectField } from '@/app/_ui/field';
import type { YardChoices } from '@/db/reads/yard-choices';
import { findText, type YardQuery, type YardSort } from '@/lib/intake/yard-query';
import { MoreFilters } from './more-filters';
import { useAtOnce } from './use-at-once';
import styles from './yard.module.css';

export interface YardFiltersProps {
  readonly query: YardQuery;
  readonly choices: YardChoices;
  /** `isTyping` while a text is being keyed: the address is then replaced, not added to. */
  readonly onChange: (query: YardQuery, isTyping?: boolean) => void;
}

const orders: readonly { readonly sort: YardSort; readonly text: string }[] = [
  { sort: 'edge', text: 'Earliest edge' },
  { sort: 'mark', text: 'Mark' },
  { sort: 'unit', text: 'Unit' },
  { sort: 'shed', text: 'Shed' },
  { sort: 'read', text: 'Last read' },
  { sort: 'idle', text: 'Idle vacuum' },
];

const wait = 150;

export function YardFilters({ query: addressed, choices, onChange: toAddress }: YardFiltersProps) {
  const [query, setQuery] = useAtOnce(addressed);
  const find = useRef<HTMLInputElement>(null);
  const [text, setText] = useState(query.find);
  const later = useRef<ReturnType<typeof setTimeout>>(undefined);

  useEffect(() => setText(query.find), [query.find]);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const isTyping = /^(INPUT|SELECT|TEXTAREA)$/.test((event.target as Element).tagName);
      if (event.key !== '/' || isTyping || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      find.current?.focus();
      find.current?.select();
    };
    document.addEventListener('keydown', onKey);
    return () => document.removeEventListener('keydown', onKey);
  }, []);

  function onChange(chosen: YardQuery, isTyping = false) {
    clearTimeout(later.current);
    const whole = isTyping ? chosen : { ...chosen, find: findText(text) };
    setQuery(whole);
    toAddress(whole, isTyping);
  }

  function onFind(event: ChangeEvent<HTMLInputElement>) {
    setText(event.target.value);
    clearTimeout(later.current);
    const asked = findText(event.target.value);
    later.current = setTimeout(() => onChange({ ...query, find: asked }, true), wait);
  }

  return (
    <search className={`${styles.filters} no-print`}>
      <Field
        id="find"
        ref={find}
        type="search"
        label="Find unit"
        placeholder="press /"
        value={text}
        onChange={onFind}
        autoCapitalize="characters"
        spellCheck={false}
      />
      <SelectField
        id="shed"
        label="Shed"
        value={query.shed ?? ''}
        onChange={(event) => onChange({ ...query, shed: event.target.value || null })}
      >
        <option value="">All sheds</option>
        {choices.sheds.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </SelectField>
      <div className={styles.order}>
        <SelectField
          id="order"
          label="Order"
          value={query.sort}
          onChange={(event) =>
            onChange({ ...query, sort: event.target.value as YardSort, isDescending: false })
          }
        >
          {orders.map(({ sort, text: words }) => (
            <option key={sort} value={sort}>
              {words}
            </option>
          ))}
        </SelectField>
      </div>
      <MoreFilters query={query} choices={choices} onChange={onChange} />
    </search>
  );
}
