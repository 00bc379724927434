import { Link } from '@/app/_ui/link';
import styles from './undecided.module.css';

interface ShedChoiceProps {
  readonly counts: readonly {
    readonly shedId: string;
    readonly shed: string;
    readonly units: number;
  }[];
  readonly chosen: string | undefined;
  readonly all: number;
  readonly hrefFor: (shedId: string | undefined) => string;
}

/** One shed's list to walk it with, or that of all; nothing to choose where one shed has them all. */
export function ShedChoice({ counts, chosen, all, hrefFor }: ShedChoiceProps) {
  if (counts.length <= 1 && chosen === undefined) return null;
  const choices = [{ shedId: undefined, shed: 'All sheds', units: all }, ...counts];
  return (
    <nav aria-label="Units that wait, by shed" className={`${styles.sheds} no-print`}>
      {choices.map(({ shedId, shed, units }) => (
        <Link
          key={shedId ?? 'all'}
          href={hrefFor(shedId)}
          aria-current={chosen === shedId ? 'true' : undefined}
        >
          {shed} <span className={styles.count}>{units.toLocaleString('en-US')}</span>
        </Link>
      ))}
    </nav>
  );
}
