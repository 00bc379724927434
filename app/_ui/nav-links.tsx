'use client';

import { usePathname } from 'next/navigation';
import { Link } from '@/app/_ui/link';

export interface NavEntry {
  readonly href: string;
  readonly text: string;
}

interface NavLinksProps {
  readonly entries: readonly NavEntry[];
}

export function NavLinks({ entries }: NavLinksProps) {
  const path = usePathname();
  return entries.map(({ href, text }) => (
    <Link
      key={href}
      href={href}
      aria-current={path === href || path?.startsWith(`${href}/`) ? 'page' : undefined}
    >
      {text}
    </Link>
  ));
}
