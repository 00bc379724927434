import { dashShare, markShape } from '@/app/_ui/mark-shape';
import type { Mark } from '@/lib/analysis/assessment';
import styles from './mark.module.css';

const colourOf: Record<Mark, string | undefined> = {
  Holding: styles.holding,
  Unread: styles.unread,
  Proving: styles.proving,
  Drifting: styles.drifting,
  'Book in': styles.bookIn,
  'Out of service': styles.out,
};

interface MarkGlyphProps {
  readonly mark: Mark;
  /** Pixels, 12 to 34. */
  readonly size?: number;
}

/** The shape alone; always set beside the mark's word or the unit that bears it. */
export function MarkGlyph({ mark, size = 18 }: MarkGlyphProps) {
  const { polygon, hole, ring } = markShape[mark];
  const dash = ring?.dashes ? (2 * Math.PI * ring.radius) / ring.dashes : 0;
  return (
    <svg
      className={`${styles.glyph} ${colourOf[mark]}`}
      width={size}
      height={size}
      viewBox="0 0 20 20"
      aria-hidden="true"
    >
      {polygon && <polygon points={polygon.map((corner) => corner.join(' ')).join(' ')} />}
      {hole && <circle className={styles.hole} cx={hole.x} cy={hole.y} r={hole.radius} />}
      {ring && (
        <circle
          className={styles.ring}
          cx={10}
          cy={10}
          r={ring.radius}
          strokeWidth={ring.width}
          strokeDasharray={dash ? `${dash * dashShare} ${dash * (1 - dashShare)}` : undefined}
        />
      )}
      {ring?.leftHalfFilled && (
        <path
          d={`M10 ${10 - ring.radius}a${ring.radius} ${ring.radius} 0 0 0 0 ${2 * ring.radius}z`}
        />
      )}
    </svg>
  );
}

interface MarkTagProps extends MarkGlyphProps {
  /** Replaces the mark's word where the column already says it, e.g. by the unit's number. */
  readonly word?: string;
}

export function MarkTag({ mark, size = 18, word }: MarkTagProps) {
  return (
    <span className={styles.mark}>
      <MarkGlyph mark={mark} size={size} />
      {word === undefined ? (
        mark
      ) : (
        <span>
          {word} <span className="visually-hidden">{mark}</span>
        </span>
      )}
    </span>
  );
}
