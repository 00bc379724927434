'use client';

import { useEffect, useRef, useState } from 'react';
import type { BayUnit } from '@/lib/bay-card/snapshot';
import { unitOfTag } from '@/lib/bay-card/unit-of-tag';
import styles from './bay.module.css';
import { AskedFor, BayHead, Foot } from './screen';
import type { Bay } from './use-bay';

interface Detector {
  detect(source: HTMLVideoElement): Promise<readonly { readonly rawValue: string }[]>;
}
declare const BarcodeDetector: new (options: { formats: readonly string[] }) => Detector;

interface ScanTagProps {
  readonly units: readonly BayUnit[];
  readonly signal: Bay['signal'];
  readonly pick: (unit: BayUnit) => void;
  readonly keyInstead: () => void;
  readonly close: () => void;
}

export const canScan = () => 'BarcodeDetector' in window;

const lookEveryMs = 250;

/** Looks for a unit tag: the QR code of a bay card's address, or of a unit's bare number. */
export function ScanTag({ units, signal, pick, keyInstead, close }: ScanTagProps) {
  const video = useRef<HTMLVideoElement>(null);
  const [says, setSays] = useState('Hold the tag before the camera.');
  const [isBlind, setIsBlind] = useState(false);
  const known = useRef({ units, pick });
  known.current = { units, pick };

  useEffect(() => {
    let stream: MediaStream | undefined;
    let timer: ReturnType<typeof setInterval> | undefined;
    let isGone = false;
    const release = () => {
      for (const track of stream?.getTracks() ?? []) track.stop();
    };
    const look = async () => {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
      if (isGone || !video.current) return release();
      video.current.srcObject = stream;
      await video.current.play();
      const detector = new BarcodeDetector({ formats: ['qr_code'] });
      timer = setInterval(async () => {
        if (!video.current) return;
        const [code] = await detector.detect(video.current);
        if (!code) return;
        const id = unitOfTag(code.rawValue);
        const unit = known.current.units.find((one) => one.id === id);
        if (unit) known.current.pick(unit);
        else setSays(`The tag says ${code.rawValue.slice(0, 40)}: no unit of your sheds.`);
      }, lookEveryMs);
    };
    look().catch(() => {
      setSays('The camera cannot be used. Allow it in the browser, or key the unit number.');
      setIsBlind(true);
    });
    return () => {
      isGone = true;
      clearInterval(timer);
      release();
    };
  }, []);

  return (
    <>
      <BayHead title="Scan the tag" signal={signal} />
      <AskedFor title="Unit tag">{says}</AskedFor>
      {isBlind ? (
        <div className={styles.fill} />
      ) : (
        <video ref={video} className={styles.camera} muted playsInline />
      )}
      <Foot back={close}>
        <button type="button" onClick={keyInstead}>
          Key a unit
        </button>
      </Foot>
    </>
  );
}
