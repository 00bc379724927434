'use client';

import { type ComponentType, useEffect, useState } from 'react';

export interface LaterPart<Props> {
  /** Null until it is loaded. */
  component: ComponentType<Props> | null;
  readonly load: () => Promise<void>;
}

export function laterPart<Props>(fetchPart: () => Promise<ComponentType<Props>>): LaterPart<Props> {
  const part: LaterPart<Props> = {
    component: null,
    async load() {
      part.component ??= await fetchPart();
    },
  };
  return part;
}

/**
 * A part of the card whose script comes later. Once loaded it is shown at once, where React's own lazy
 * parts first show what stands in for them.
 */
export function useLaterPart<Props>(
  part: LaterPart<Props>,
  isWanted = true,
): ComponentType<Props> | null {
  const [, setIsHere] = useState(false);
  useEffect(() => {
    if (isWanted) void part.load().then(() => setIsHere(true));
  }, [part, isWanted]);
  return part.component;
}
