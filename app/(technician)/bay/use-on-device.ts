'use client';

import { useSyncExternalStore } from 'react';

const never = () => () => undefined;

/** What only the device can say, such as the height of its screen; until it has said so, `atFirst`. */
export const useOnDevice = <Value extends string | number | boolean>(
  look: () => Value,
  atFirst: Value,
): Value => useSyncExternalStore(never, look, () => atFirst);
