'use client';

import { useState } from 'react';
import { Button } from '@/app/_ui/button';
import { ChoiceField, Field, SelectField } from '@/app/_ui/field';
import { parts } from '@/lib/analysis/reading';
import {
  type PartPlace,
  partCell,
  partCells,
  partPlaces,
  type RangeCell,
} from '@/lib/intake/range-cells';
import type { DistanceUnit, PressureUnit } from '@/lib/measure';
import type { Problem } from '@/lib/result';
import styles from './bulletin-form.module.css';
import { type Keyed, rangeField } from './bulletin-values';

interface RangeFieldsProps {
  readonly range: number;
  /** What people call it: 1 for the first one shown. */
  readonly place: number;
  readonly values: Keyed;
  readonly problems: readonly Problem[];
  readonly units: { readonly pressure: PressureUnit; readonly distance: DistanceUnit };
  readonly onRemove: (() => void) | null;
}

type Words = readonly [cell: RangeCell, label: string, hint?: string];

const build: readonly (readonly Words[])[] = [
  [
    ['make', 'Make', 'Several with commas'],
    ['model', 'Model', 'Several with commas'],
    ['engine', 'Engine', 'Several with commas'],
    ['plant', 'Plant', 'Position 11 of the VIN'],
  ],
  [
    ['modelYearFrom', 'Model year from'],
    ['modelYearTo', 'Model year to'],
    ['vinFrom', 'VIN sequence from', 'Last digits of the VIN'],
    ['vinTo', 'VIN sequence to'],
  ],
  [
    ['builtFrom', 'Built from', '2018-11 or 2018-11-03'],
    ['builtTo', 'Built to', 'That month or day is in'],
    ['ageFrom', 'Age from, months'],
    ['ageTo', 'Age to, months'],
  ],
];

interface PartFieldsProps {
  readonly place: PartPlace;
  readonly bound: (cell: RangeCell) => {
    readonly id: string;
    readonly name: string;
    readonly defaultValue: string;
    readonly error: string | undefined;
  };
}

/** What is asked of one fitted part. */
function PartFields({ place, bound }: PartFieldsProps) {
  const ofPart = (cell: (typeof partCells)[number]) => bound(partCell(cell, place));
  const which = place === 1 ? 'Part' : `Part ${place}`;
  return (
    <div className={styles.pair}>
      <SelectField label={`${which} fitted`} {...ofPart('part')}>
        <option value="">Any</option>
        {parts.map((part) => (
          <option key={part}>{part}</option>
        ))}
      </SelectField>
      <SelectField label="Its revision is" {...ofPart('revisionsAre')}>
        <option value="in">one of</option>
        <option value="not in">none of</option>
      </SelectField>
      <Field label="Revisions" hint="Several with commas" {...ofPart('revisions')} />
      <Field
        label="Its date code from"
        hint="1931 is week 31 of 2019"
        {...ofPart('dateCodeFrom')}
      />
      <Field label="Its date code to" hint="That week is in" {...ofPart('dateCodeTo')} />
    </div>
  );
}

/** One range: what is left empty asks nothing. */
export function RangeFields({ range, place, values, problems, units, onRemove }: RangeFieldsProps) {
  const bound = (cell: RangeCell) => {
    const id = rangeField(range, cell);
    const error = problems.find(({ field }) => field === id)?.message;
    return { id, name: id, defaultValue: values[id] ?? '', error };
  };
  const [shownParts, setShownParts] = useState<number>(
    () =>
      partPlaces.findLast((at) =>
        partCells.some(
          (cell) => cell !== 'revisionsAre' && values[rangeField(range, partCell(cell, at))],
        ),
      ) ?? 1,
  );
  const used: readonly (readonly Words[])[] = [
    [
      ['odometerFrom', `Odometer from, ${units.distance}`],
      ['odometerTo', `Odometer to, ${units.distance}`],
    ],
    [
      ['line', 'Line', 'film, wet, dry; with commas'],
      ['recoverySlowerThan', 'Recovery slower than, s'],
      ['idleBelow', `Idle vacuum below, ${units.pressure}`],
      ['lowestBelow', `Lowest below, ${units.pressure}`],
    ],
  ];
  const fields = (rows: readonly (readonly Words[])[]) =>
    rows.map((words) => (
      <div key={words[0]?.[0]} className={styles.pair}>
        {words.map(([cell, label, hint]) => (
          <Field key={cell} label={label} hint={hint} {...bound(cell)} />
        ))}
      </div>
    ));
  const { defaultValue: everyUnit, ...every } = bound('everyUnit');
  return (
    <fieldset className={styles.range}>
      <legend>Range {place}: units where all of these hold</legend>
      {fields(build)}
      {partPlaces.slice(0, shownParts).map((at) => (
        <PartFields key={at} place={at} bound={bound} />
      ))}
      {shownParts < partPlaces.length && (
        <div>
          <Button onClick={() => setShownParts(shownParts + 1)}>Ask of one more part</Button>
        </div>
      )}
      {fields(used)}
      <div className={styles.actions}>
        <ChoiceField
          {...every}
          value="yes"
          defaultChecked={everyUnit === 'yes'}
          label="Every unit, and nothing else asked"
        />
        {onRemove && <Button onClick={onRemove}>Remove range {place}</Button>}
      </div>
    </fieldset>
  );
}
