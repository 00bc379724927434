import { Link } from '@/app/_ui/link';
import { MarkTag } from '@/app/_ui/mark';
import { type Mark, marks } from '@/lib/analysis/assessment';
import styles from './mark-counts.module.css';

interface MarkCountsProps {
  readonly counts: Readonly<Record<Mark, number>>;
  /** The mark that the list below is narrowed to; null shows all. */
  readonly chosen: Mark | null;
  readonly hrefFor: (mark: Mark | null) => string;
}

/** One quiet line of filters, worst first. */
export function MarkCounts({ counts, chosen, hrefFor }: MarkCountsProps) {
  const all = marks.reduce((sum, mark) => sum + counts[mark], 0);
  return (
    <nav aria-label="Units by mark" className={styles.counts}>
      {marks.map((mark) => (
        <Link
          key={mark}
          href={hrefFor(mark)}
          aria-current={chosen === mark ? 'true' : undefined}
          scroll={false}
        >
          <MarkTag mark={mark} size={16} />
          <span className={styles.count}>{counts[mark].toLocaleString('en-US')}</span>
        </Link>
      ))}
      <Link href={hrefFor(null)} aria-current={chosen === null ? 'true' : undefined} scroll={false}>
        All <span className={styles.count}>{all.toLocaleString('en-US')}</span>
      </Link>
    </nav>
  );
}
