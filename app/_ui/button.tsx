import type { ComponentProps } from 'react';
import { Link } from '@/app/_ui/link';
import styles from './button.module.css';

interface Look {
  /** The one main action of a page or form. */
  readonly main?: boolean;
  readonly wide?: boolean;
}

const classesOf = ({ main, wide }: Look): string =>
  [styles.button, main && styles.main, wide && styles.wide].filter(Boolean).join(' ');

export function Button({ main, wide, type = 'button', ...rest }: Look & ComponentProps<'button'>) {
  return <button type={type} className={classesOf({ main, wide })} {...rest} />;
}

export function LinkButton({ main, wide, ...rest }: Look & ComponentProps<typeof Link>) {
  return <Link className={classesOf({ main, wide })} {...rest} />;
}

/** For files and routes that answer with a download: never client-routed. */
export function DownloadButton({ main, wide, ...rest }: Look & ComponentProps<'a'>) {
  return <a className={classesOf({ main, wide })} {...rest} />;
}
