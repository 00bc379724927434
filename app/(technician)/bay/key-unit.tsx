'use client';

import { useState } from 'react';
import type { BayUnit } from '@/lib/bay-card/snapshot';
import styles from './bay.module.css';
import { KeyPad } from './key-pad';
import { canScan } from './scan-tag';
import { AskedFor, BayHead, Choice, Foot } from './screen';
import type { Bay } from './use-bay';

interface KeyUnitProps {
  readonly units: readonly BayUnit[];
  readonly signal: Bay['signal'];
  readonly pick: (unit: BayUnit) => void;
  readonly close: () => void;
}

const digitsOf = (id: string): string => id.replaceAll(/\D/g, '').replace(/^0+/, '');

/** Units whose number has the digits keyed; letters and leading noughts need no key. */
export function KeyUnit({ units, signal, pick, close }: KeyUnitProps) {
  const [digits, setDigits] = useState('');
  const wanted = digitsOf(digits);
  const exact = units.filter(({ id }) => wanted !== '' && digitsOf(id) === wanted);
  const near = units.filter(({ id }) => wanted !== '' && digitsOf(id).startsWith(wanted));
  const found = exact.length > 0 ? exact : near;
  const [only] = found;
  const foundWords = found.length === 1 ? only?.described : `${found.length} found`;
  const next = () => {
    if (only && found.length === 1) pick(only);
  };
  return (
    <>
      <BayHead title="Key a unit" signal={signal} />
      <AskedFor title="Unit number">
        {wanted !== '' && found.length === 0 && 'No unit of your sheds has this number.'}
        {wanted === '' &&
          !canScan() &&
          'This browser cannot scan tags: key the number under the code.'}
      </AskedFor>
      <div className={styles.out} role="status">
        <span>{digits || '–'}</span>
        <small>{wanted !== '' && foundWords}</small>
      </div>
      {found.length > 1 && found.length <= 2 && (
        <div className={styles.pair}>
          {found.map((unit) => (
            <Choice key={unit.id} title={unit.id} onClick={() => pick(unit)} />
          ))}
        </div>
      )}
      <KeyPad
        press={(key) => {
          if (key === 'clear') setDigits('');
          else if (key === 'delete') setDigits(digits.slice(0, -1));
          else setDigits(`${digits}${key}`.slice(0, 8));
        }}
        next={next}
      />
      <Foot back={close}>
        <button type="button" className={styles.main} disabled={found.length !== 1} onClick={next}>
          {found.length === 1 ? `Read ${only?.id}` : 'Read it'}
        </button>
      </Foot>
    </>
  );
}
