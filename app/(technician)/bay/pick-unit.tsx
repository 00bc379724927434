'use client';

import { startTransition, useState } from 'react';
import { type BayList, rowOf, unitsInBay } from '@/lib/bay-card/bay-list';
import type { BayUnit } from '@/lib/bay-card/snapshot';
import styles from './bay.module.css';
import { KeyUnit } from './key-unit';
import { canScan, ScanTag } from './scan-tag';
import { AskedFor, BayHead } from './screen';
import type { Bay } from './use-bay';
import { useOnDevice } from './use-on-device';
import type { Standby } from './use-standby';

interface PickUnitProps {
  /** What the desk sent with the page: stands until the desk is heard again. */
  readonly first: BayList | null;
  readonly bay: Bay;
  readonly read: (unit: BayUnit, isProof: boolean) => void;
  /** Asks for a unit whose history is not on the device yet. */
  readonly wanted: string | null;
  readonly want: (unitId: string) => void;
  readonly showKept: () => void;
}

const fewerBelowPx = 700;
const standbyWords: Record<Standby, string> = {
  'getting ready': 'Does not work without signal yet.',
  ready: 'Works without signal.',
  'only while open': 'Works without signal only while this page stays open.',
};
const isProofAsked = () => new URLSearchParams(location.search).has('proof');

/** The bay list: what is in the bay today, or was read lately; a number, or a tag. */
export function PickUnit({ first, bay, read, wanted, want, showKept }: PickUnitProps) {
  const [way, setWay] = useState<'list' | 'number' | 'tag'>('list');
  const [isRecent, setIsRecent] = useState(false);
  const [from, setFrom] = useState(0);
  const perScreen = useOnDevice(() => (window.innerHeight < fewerBelowPx ? 3 : 4), 4);
  const isScanner = useOnDevice(canScan, false);
  const { snapshot, recent, outbox } = bay;
  const units = snapshot?.units ?? [];
  const pick = (unit: BayUnit) => read(unit, isProofAsked());
  const close = () => setWay('list');
  if (way === 'number') return <KeyUnit units={units} signal={bay.signal} {...{ pick, close }} />;
  if (way === 'tag') {
    const keyInstead = () => setWay('number');
    return <ScanTag units={units} signal={bay.signal} {...{ pick, keyInstead, close }} />;
  }

  const opening = snapshot && bay.isHeard ? null : first;
  const listed = isRecent
    ? recent.flatMap((id) => units.find((unit) => unit.id === id) ?? []).map(rowOf)
    : (opening?.rows ?? unitsInBay(units).map(rowOf));
  const count = isRecent ? listed.length : (opening?.count ?? listed.length);
  const isKnown = snapshot !== null || first !== null;
  const waiting = outbox.filter(({ state }) => state !== 'on record').length;
  const isMore = count > perScreen;
  return (
    <>
      <BayHead title="Bay card" signal={bay.signal} />
      <AskedFor title="Which unit?">
        {wanted && bay.signal === 'signal'
          ? `Unit ${wanted}: waiting for its readings.`
          : isKnown
            ? `${isRecent ? 'Read on this device' : 'In your bay today'}: ${count}.${
                waiting > 0 ? ` ${waiting} kept here, not sent.` : ''
              }`
            : bay.signal === 'signal'
              ? 'Hearing the desk.'
              : 'The desk has not been heard yet. The first time needs signal.'}
      </AskedFor>
      <p className={styles.standby} role="status">
        {isKnown && standbyWords[bay.standby]}
      </p>
      <div className={`${styles.choices} ${styles.bayList}`}>
        {count === 0 && isKnown && (
          <p>
            {isRecent ? 'Nothing read on this device yet.' : 'Nothing in your bay. Key a unit.'}
          </p>
        )}
        {listed.slice(from, from + perScreen).map(({ id, note }) => (
          // A link, so that a touch counts before the scripts are here.
          <a
            key={id}
            className={styles.choice}
            href={`/bay?unit=${encodeURIComponent(id)}`}
            onClick={(event) => {
              event.preventDefault();
              const unit = units.find((one) => one.id === id);
              if (unit) pick(unit);
              else want(id);
            }}
          >
            {id}
            <small>{note}</small>
          </a>
        ))}
      </div>
      <div className={styles.pair} hidden={!isKnown}>
        {isMore && (
          <button
            type="button"
            onClick={() => setFrom(from + perScreen < count ? from + perScreen : 0)}
          >
            {from + perScreen < count ? `Next ${perScreen}` : 'First again'}
          </button>
        )}
        <button
          type="button"
          onClick={() => {
            setIsRecent(!isRecent);
            setFrom(0);
          }}
        >
          {isRecent ? 'In my bay' : 'Recent'}
        </button>
        <button type="button" onClick={() => startTransition(() => setWay('number'))}>
          Key a unit
        </button>
        {isScanner && (
          <button type="button" onClick={() => startTransition(() => setWay('tag'))}>
            Scan the tag
          </button>
        )}
        {outbox.length > 0 && (
          <button type="button" onClick={showKept}>
            Kept here
          </button>
        )}
        <a className={styles.link} href="/bay/overdue">
          Overdue list
        </a>
      </div>
    </>
  );
}
