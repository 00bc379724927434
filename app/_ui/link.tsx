import NextLink from 'next/link';
import type { ComponentProps } from 'react';

/**
 * Fetches nothing before it is followed: every page is made anew for its reader, so a prefetch brings
 * only the frame, and a page of rows would ask the server for dozens of them.
 */
export function Link(props: Omit<ComponentProps<typeof NextLink>, 'prefetch'>) {
  return <NextLink {...props} prefetch={false} />;
}
