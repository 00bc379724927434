'use client';

import { useEffect, useState } from 'react';
import type { KeptReading } from '@/app/_offline/kept-reading';
import type { BayList } from '@/lib/bay-card/bay-list';
import { newDraft } from '@/lib/bay-card/draft';
import type { BayUnit } from '@/lib/bay-card/snapshot';
import { unitOfTag } from '@/lib/bay-card/unit-of-tag';
import styles from './bay.module.css';
import { KeptScreen } from './kept-screen';
import { callScreen, readingSteps } from './later-parts';
import { PickUnit } from './pick-unit';
import { AskedFor, BayHead } from './screen';
import { useBay } from './use-bay';
import { useLaterPart } from './use-later-part';

const unreadable = 'nothing that can be read';

interface BayCardProps {
  /** What the list opens on while the device and the desk are asked; null on a page that was kept. */
  readonly first: BayList | null;
  /** The device keeps a step or a call to go on with: the list would only flash by. */
  readonly isMidway: boolean;
}

/** The technician's reading flow. Works on what the device keeps; the desk is heard when there is signal. */
export function BayCard({ first, isMidway }: BayCardProps) {
  const bay = useBay(first?.personId);
  const [isKeptShown, setIsKeptShown] = useState(false);
  const { snapshot, draft, shown } = bay;
  const ReadingSteps = useLaterPart(readingSteps, draft !== null);
  const CallScreen = useLaterPart(callScreen, shown !== null);

  const read = (unit: BayUnit, isProofAsked: boolean) => {
    if (!snapshot) return;
    const { person, gauges } = snapshot;
    const remembered = gauges.find(({ id }) => id === bay.rememberedGauge?.id);
    const gauge = remembered ?? gauges.find(({ shedId }) => shedId === unit.shedId);
    const scale = remembered && bay.rememberedGauge?.unit;
    void bay.begin(
      newDraft({
        id: crypto.randomUUID(),
        unitId: unit.id,
        signedBy: person.id,
        signerName: `${person.name}, ${person.badge}`,
        isProof: isProofAsked || unit.proof !== null,
        gaugeId: gauge?.id ?? null,
        pressureUnit: scale ?? gauge?.pressureUnit ?? person.pressureUnit,
        distanceUnit: person.distanceUnit,
      }),
    );
  };

  const { isOpen } = bay;
  const isListed = isOpen || (first !== null && !isMidway);
  /** A unit that was touched before its history was here. */
  const [wanted, setWanted] = useState<string | null>(null);
  const [unknownTag, setUnknownTag] = useState<string | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the address is read once, when the units are known
  useEffect(() => {
    const asked = new URLSearchParams(location.search);
    const tagged = asked.has('unit') ? (unitOfTag(location.href) ?? unreadable) : null;
    const unitId = wanted ?? tagged;
    if (!isOpen || !snapshot || unitId === null) return;
    setWanted(null);
    history.replaceState(null, '', '/bay');
    const unit = snapshot.units.find(({ id }) => id === unitId);
    if (!unit) setUnknownTag(unitId);
    else if (!draft) void bay.nextUnit().then(() => read(unit, asked.has('proof')));
  }, [isOpen, snapshot, wanted]);

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
      {unknownTag && !draft && (
        <p role="alert" className={styles.note}>
          The tag names {unknownTag}: no unit of your sheds.
        </p>
      )}
      {!isListed && (
        <>
          <BayHead title="Bay card" signal={bay.signal} />
          <AskedFor title="Which unit?">Looking at what this device keeps.</AskedFor>
        </>
      )}
      {bay.isOpen && draft && ReadingSteps && (
        <ReadingSteps key={draft.id} draft={draft} bay={bay} snapshot={snapshot} />
      )}
      {bay.isOpen && !draft && shown && CallScreen && (
        <CallScreen key={shown.id} reading={shown} bay={bay} measureAgain={() => again(shown)} />
      )}
      {isListed &&
        !draft &&
        !shown &&
        (isKeptShown ? (
          <KeptScreen bay={bay} close={() => setIsKeptShown(false)} />
        ) : (
          <PickUnit
            first={first}
            bay={bay}
            read={read}
            wanted={wanted}
            want={setWanted}
            showKept={() => setIsKeptShown(true)}
          />
        ))}
    </main>
  );
}
