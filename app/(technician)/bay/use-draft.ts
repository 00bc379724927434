'use client';

import { useCallback, useRef, useState } from 'react';
import { readNote, writeNote } from '@/app/_offline/bay-store';
import { tellOtherTabs } from '@/app/_offline/other-tabs';
import { advanceDraft } from '@/lib/bay-card/advance-draft';
import type { Draft } from '@/lib/bay-card/draft';
import type { DraftAction } from '@/lib/bay-card/draft-action';

async function keepDraft(draft: Draft | null): Promise<void> {
  await writeNote('draft', draft);
  tellOtherTabs();
}

export interface DraftOnDevice {
  readonly draft: Draft | null;
  /** Keeps it on the device first. */
  begin(draft: Draft | null): Promise<void>;
  /** Shows what the device keeps already. */
  show(draft: Draft | null): void;
  touch(action: DraftAction): void;
  hidePage(): void;
  lookAgain(): Promise<void>;
}

/** The reading under way: one and the same in every tab. `kept` hears whether a touch could be kept. */
export function useDraft(kept: (isKept: boolean) => void): DraftOnDevice {
  const [draft, setDraft] = useState<Draft | null>(null);
  const newest = useRef<Draft | null>(null);

  const show = useCallback((next: Draft | null) => {
    newest.current = next;
    setDraft(next);
  }, []);

  /** The screen moves once the device has kept the step, so that a killed page opens where it was. */
  const touch = useCallback(
    (action: DraftAction) => {
      const before = newest.current;
      if (!before) return;
      const after = advanceDraft(before, action);
      newest.current = after;
      if (after.step === before.step) setDraft(after);
      keepDraft(after).then(
        () => {
          kept(true);
          setDraft(newest.current);
        },
        () => {
          show(before);
          kept(false);
        },
      );
    },
    [kept, show],
  );

  const hidePage = useCallback(() => {
    if (!newest.current?.watch) return;
    show(advanceDraft(newest.current, { type: 'hide page' }));
    void writeNote('draft', newest.current);
  }, [show]);

  /** A touch on this tab while the device is asked is newer than what another has kept. */
  const lookAgain = useCallback(async () => {
    const before = newest.current;
    const found = await readNote('draft');
    if (newest.current === before) show(found);
  }, [show]);

  const begin = useCallback(
    async (next: Draft | null) => {
      await keepDraft(next);
      show(next);
    },
    [show],
  );

  return { draft, begin, show, touch, hidePage, lookAgain };
}
