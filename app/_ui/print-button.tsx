'use client';

import type { ReactNode } from 'react';
import { Button } from '@/app/_ui/button';

export function PrintButton({ children }: { readonly children: ReactNode }) {
  return <Button onClick={() => window.print()}>{children}</Button>;
}
