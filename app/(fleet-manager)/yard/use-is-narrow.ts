'use client';

import { useSyncExternalStore } from 'react';

/** Where the style sheet sets each row as a card. */
const narrow = '(max-width: 63.99em)';

function subscribe(onChange: () => void): () => void {
  const list = window.matchMedia(narrow);
  list.addEventListener('change', onChange);
  return () => list.removeEventListener('change', onChange);
}

export const useIsNarrow = (): boolean =>
  useSyncExternalStore(
    subscribe,
    () => window.matchMedia(narrow).matches,
    () => false,
  );
