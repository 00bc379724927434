'use client';

import { useEffect, useId, useState } from 'react';
import { readNote, writeNote } from '@/app/_offline/bay-store';
import { shrinkPhoto } from '@/app/_offline/shrink-photo';
import styles from './bay.module.css';

const cannotRead = 'That is no picture that this browser can read.';
const notKept = 'This device could not keep the picture. Go on without it.';

/** A picture of the line for the reading under way: taken or chosen, made small, kept on the device. */
export function PhotoChoice({ draftId }: { readonly draftId: string }) {
  const id = useId();
  const [says, setSays] = useState('Optional');
  useEffect(() => {
    readNote('photo').then(
      (kept) => kept?.draftId === draftId && setSays('Kept with this reading'),
      () => setSays(notKept),
    );
  }, [draftId]);
  const keep = async (file: File) => {
    setSays('Making it small');
    const picture = await shrinkPhoto(file);
    if (!picture) return setSays(cannotRead);
    await writeNote('photo', { draftId, picture }).then(
      () => setSays('Kept with this reading'),
      () => setSays(notKept),
    );
  };
  return (
    <label className={styles.photo} htmlFor={id}>
      Photo of the line <small role="status">{says}</small>
      <input
        id={id}
        type="file"
        accept="image/*"
        onChange={({ target }) => {
          const [file] = target.files ?? [];
          if (file) void keep(file);
          target.value = '';
        }}
      />
    </label>
  );
}
