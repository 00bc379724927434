'use client';

import type { ReactNode } from 'react';
import { Button } from './button';

/** Opens the browser's print dialog for the page as it stands. */
export function PrintButton({ children }: { readonly children: ReactNode }) {
  return <Button onClick={() => window.print()}>{children}</Button>;
}
