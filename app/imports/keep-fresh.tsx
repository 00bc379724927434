'use client';

import { useRouter } from 'next/navigation';
import { useEffect } from 'react';

/** Loads the page's figures again every two seconds while something goes on. */
export function KeepFresh() {
  const router = useRouter();
  useEffect(() => {
    const timer = setInterval(() => router.refresh(), 2_000);
    return () => clearInterval(timer);
  }, [router]);
  return null;
}
