'use client';

import { useState } from 'react';
import type { KeptReading } from '@/app/_offline/kept-reading';
import { newDraft } from '@/lib/bay-card/draft';
import type { BayUnit } from '@/lib/bay-card/snapshot';
import styles from './bay.module.css';
import { CallScreen } from './call-screen';
import { KeptScreen } from './kept-screen';
import { PickUnit } from './pick-unit';
import { ReadingSteps } from './reading-steps';
import { AskedFor, BayHead } from './screen';
import { useBay } from './use-bay';

/** The technician's reading flow. Works on what the device keeps; the desk is heard when there is signal. */
export function BayCard() {
  const bay = useBay();
  const [isKeptShown, setIsKeptShown] = useState(false);
  const { snapshot, draft, shown } = bay;

  const read = (unit: BayUnit, isProofAsked: boolean) => {
    if (!snapshot) return;
    const { person, gauges } = snapshot;
    const gauge =
      gauges.find(({ id }) => id === bay.rememberedGauge) ??
      gauges.find(({ shedId }) => shedId === unit.shedId);
    void bay.begin(
      newDraft({
        id: crypto.randomUUID(),
        unitId: unit.id,
        signedBy: person.id,
        signerName: `${person.name}, ${person.badge}`,
        isProof: isProofAsked || unit.proof !== null,
        gaugeId: gauge?.id ?? null,
        pressureUnit: gauge?.pressureUnit ?? person.pressureUnit,
        distanceUnit: person.distanceUnit,
      }),
    );
  };

  const again = (kept: KeptReading) => {
    const unit = snapshot?.units.find(({ id }) => id === kept.unitId);
    if (unit) void bay.nextUnit().then(() => read(unit, kept.payload.isProof));
  };

  return (
    <main id="main" className={styles.card}>
      {bay.trouble && (
        <p role="alert" className={styles.trouble}>
          {bay.trouble}
        </p>
      )}
      {!bay.isOpen && (
        <>
          <BayHead title="Bay card" signal={bay.signal} />
          <AskedFor title="Which unit?">Looking at what this device keeps.</AskedFor>
        </>
      )}
      {bay.isOpen && draft && (
        <ReadingSteps key={draft.id} draft={draft} bay={bay} snapshot={snapshot} />
      )}
      {bay.isOpen && !draft && shown && (
        <CallScreen key={shown.id} reading={shown} bay={bay} measureAgain={() => again(shown)} />
      )}
      {bay.isOpen &&
        !draft &&
        !shown &&
        (isKeptShown ? (
          <KeptScreen bay={bay} close={() => setIsKeptShown(false)} />
        ) : (
          <PickUnit bay={bay} read={read} showKept={() => setIsKeptShown(true)} />
        ))}
    </main>
  );
}
