'use client';

import { type ReactNode, useId, useRef } from 'react';
import { Button } from '@/app/_ui/button';
import styles from './dialog.module.css';

interface DialogProps {
  /** Words on the button that opens it. */
  readonly opener: string;
  readonly openerIsMain?: boolean;
  readonly title: string;
  readonly closer?: string;
  readonly children: ReactNode;
}

/** The browser's own modal: it traps the focus, closes on Escape and gives the focus back. */
export function Dialog({ opener, openerIsMain, title, closer = 'Close', children }: DialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  return (
    <>
      <Button main={openerIsMain} onClick={() => dialog.current?.showModal()}>
        {opener}
      </Button>
      <dialog ref={dialog} className={styles.dialog} aria-labelledby={titleId}>
        <div className={styles.head}>
          <h2 id={titleId}>{title}</h2>
          <Button onClick={() => dialog.current?.close()}>{closer}</Button>
        </div>
        {children}
      </dialog>
    </>
  );
}
