import { useEffect, useRef } from 'react';
import { MarkTag } from '@/app/_ui/mark';
import { UnitLinks } from '@/app/_ui/unit-links';
import type { BulletinPreview } from './actions';
import styles from './bulletin-form.module.css';

interface RulePreviewPanelProps {
  readonly preview: BulletinPreview;
  readonly kind: string;
}

/** What entering the bulletin would do: counts, which take the focus, and the marks that would change. */
export function RulePreviewPanel({ preview, kind }: RulePreviewPanelProps) {
  const { applies, undecided, doesNot, marks } = preview;
  const changed = marks.reduce((sum, { units }) => sum + units, 0);
  const isDoNotDrive = kind === 'do not drive until done';
  const counts = useRef<HTMLParagraphElement>(null);
  useEffect(() => counts.current?.focus(), []);
  return (
    <section className={styles.preview} aria-label="Preview">
      <p ref={counts} role="status" tabIndex={-1}>
        <b>
          Applies to {applies}, undecided for {undecided}, does not apply to {doesNot}.
        </b>
      </p>
      {marks.length === 0 ? (
        <p>No unit would change its mark today.</p>
      ) : (
        <>
          <p>
            {changed === 1 ? 'One unit' : `${changed} units`} would change{' '}
            {changed === 1 ? 'its mark' : 'their marks'}{' '}
            {isDoNotDrive ? 'when a safety officer approves it' : 'today'}:
          </p>
          <ul className={styles.changes}>
            {marks.map(({ from, to, why, units, first }) => (
              <li key={`${from} ${to} ${why}`}>
                <p className="row">
                  {from ? <MarkTag mark={from} size={14} /> : 'no mark'} to{' '}
                  {to ? <MarkTag mark={to} size={14} /> : 'no mark'}
                  <b>
                    {units} {units === 1 ? 'unit' : 'units'}
                  </b>
                </p>
                <p>{why}</p>
                <UnitLinks units={first} count={units} />
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
