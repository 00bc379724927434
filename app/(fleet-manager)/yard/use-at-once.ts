'use client';

import { useEffect, useState } from 'react';

/** A value of the address that a control shows as soon as it is chosen: the address follows a moment later. */
export function useAtOnce<Value>(value: Value): [Value, (chosen: Value) => void] {
  const [shown, setShown] = useState(value);
  useEffect(() => setShown(value), [value]);
  return [shown, setShown];
}
