'use client';

import { useState } from 'react';
import type { BayUnit } from '@/lib/bay-card/snapshot';
import { isoFromDay } from '@/lib/calendar';
import styles from './bay.module.css';
import { KeyUnit } from './key-unit';
import { canScan, ScanTag } from './scan-tag';
import { AskedFor, BayHead, Choice } from './screen';
import type { Bay } from './use-bay';
import type { Standby } from './use-standby';

interface PickUnitProps {
  readonly bay: Bay;
  readonly read: (unit: BayUnit, isProof: boolean) => void;
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
export function PickUnit({ bay, read, showKept }: PickUnitProps) {
  const [way, setWay] = useState<'list' | 'number' | 'tag'>('list');
  const [isRecent, setIsRecent] = useState(false);
  const [from, setFrom] = useState(0);
  const perScreen = window.innerHeight < fewerBelowPx ? 3 : 4;
  const { snapshot, recent, outbox } = bay;
  const units = snapshot?.units ?? [];
  const pick = (unit: BayUnit) => read(unit, isProofAsked());
  const close = () => setWay('list');
  if (way === 'number') return <KeyUnit units={units} signal={bay.signal} {...{ pick, close }} />;
  if (way === 'tag') return <ScanTag units={units} signal={bay.signal} {...{ pick, close }} />;

  const listed = isRecent
    ? recent.flatMap((id) => units.find((unit) => unit.id === id) ?? [])
    : units.filter(({ inBay }) => inBay !== null).sort(byUrgency);
  const waiting = outbox.filter(({ state }) => state !== 'on record').length;
  const isMore = listed.length > perScreen;
  return (
    <>
      <BayHead title="Bay card" signal={bay.signal} />
      <AskedFor title="Which unit?">
        {snapshot
          ? `${isRecent ? 'Read on this device' : 'In your bay today'}: ${listed.length}.${
              waiting > 0 ? ` ${waiting} kept here, not sent.` : ''
            }`
          : bay.signal === 'signal'
            ? 'Hearing the desk.'
            : 'The desk has not been heard yet. The first time needs signal.'}
      </AskedFor>
      <p className={styles.standby} role="status">
        {snapshot && standbyWords[bay.standby]}
      </p>
      <div className={styles.choices}>
        {listed.length === 0 && snapshot && (
          <p>
            {isRecent ? 'Nothing read on this device yet.' : 'Nothing in your bay. Key a unit.'}
          </p>
        )}
        {listed.slice(from, from + perScreen).map((unit) => (
          <Choice
            key={unit.id}
            title={unit.id}
            note={`${unit.inBay ?? unit.described} · ${lastRead(unit)}`}
            onClick={() => pick(unit)}
          />
        ))}
      </div>
      <div className={styles.pair} hidden={!snapshot}>
        {isMore && (
          <button
            type="button"
            onClick={() => setFrom(from + perScreen < listed.length ? from + perScreen : 0)}
          >
            {from + perScreen < listed.length ? `Next ${perScreen}` : 'First again'}
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
        <button type="button" onClick={() => setWay('number')}>
          Key a unit
        </button>
        {canScan() && (
          <button type="button" onClick={() => setWay('tag')}>
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

/** Orders first, then the longest overdue. */
const byUrgency = (a: BayUnit, b: BayUnit): number =>
  Number(b.inBay?.startsWith('order')) - Number(a.inBay?.startsWith('order')) ||
  (a.dueOn ?? 0) - (b.dueOn ?? 0) ||
  a.id.localeCompare(b.id);

const lastRead = ({ lastReadOn }: BayUnit): string =>
  lastReadOn === null ? 'never read' : `read ${isoFromDay(lastReadOn)}`;
