'use client';

import { useEffect, useId, useState } from 'react';
import { readNote, writeNote } from '@/app/_offline/bay-store';
import { shrinkPhoto } from '@/app/_offline/shrink-photo';
import styles from './bay.module.css';

const cannotRead = 'That is no picture that this browser can read.';
const notKept = 'This device could not keep that picture.';
const notRemoved = 'This device could not remove it. Touch it again.';

/** A picture of the line for the reading under way: taken or chosen, made small, kept on the device. */
export function PhotoChoice({ draftId }: { readonly draftId: string }) {
  const id = useId();
  const [kept, setKept] = useState<Blob | null>(null);
  /** What hinders or is under way; else the row says whether a picture is kept. */
  const [says, setSays] = useState<string | null>(null);
  const address = useAddress(kept);
  useEffect(() => {
    readNote('photo').then(
      (found) => setKept(found?.draftId === draftId ? found.picture : null),
      () => setSays(notKept),
    );
  }, [draftId]);
  const keep = async (picture: Blob | null, trouble: string) => {
    await writeNote('photo', picture && { draftId, picture }).then(
      () => {
        setKept(picture);
        setSays(null);
      },
      () => setSays(trouble),
    );
  };
  const take = async (file: File) => {
    setSays('Making it small');
    const picture = await shrinkPhoto(file);
    if (picture) await keep(picture, notKept);
    else setSays(cannotRead);
  };
  return (
    <div className={styles.photo}>
      <label htmlFor={id}>
        {/* biome-ignore lint/performance/noImgElement: a picture made on this device has no server to fit it */}
        {address && <img src={address} alt="The line, as taken" />}
        <span>
          Photo of the line{' '}
          <small role="status">{says ?? (kept ? 'Kept with this reading' : 'Optional')}</small>
        </span>
        <input
          id={id}
          type="file"
          accept="image/*"
          onChange={({ target }) => {
            const [file] = target.files ?? [];
            if (file) void take(file);
            target.value = '';
          }}
        />
      </label>
      {kept && (
        <button type="button" className={styles.remove} onClick={() => void keep(null, notRemoved)}>
          Remove
        </button>
      )}
    </div>
  );
}

/** Address at which the page can show a picture, for as long as it does. */
function useAddress(picture: Blob | null): string | null {
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    if (!picture) return setAddress(null);
    const made = URL.createObjectURL(picture);
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [picture]);
  return address;
}
