import { useEffect, useRef } from 'react';
import { MarkTag } from '@/app/_ui/mark';
import { UnitLinks } from '@/app/_ui/unit-links';
import type { MarkChange } from '@/db/reads/marks-under-limits';
import type { RulePreview } from '@/db/reads/preview-rule';
import styles from './bulletin-form.module.css';

interface RulePreviewPanelProps {
  readonly preview: RulePreview;
  readonly kind: string;
}

const shownUnits = 60;

/** Units whose marks would change in the same way for the same reason. */
function alike(changes: readonly MarkChange[]): readonly (readonly MarkChange[])[] {
  const groups = new Map<string, MarkChange[]>();
  for (const change of changes) {
    const key = `${change.from} ${change.to} ${change.why}`;
    groups.set(key, [...(groups.get(key) ?? []), change]);
  }
  return [...groups.values()];
}

/** What entering the bulletin would do: counts, which take the focus, and the marks that would change. */
export function RulePreviewPanel({ preview, kind }: RulePreviewPanelProps) {
  const { applies, undecided, doesNot, marks } = preview;
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
            {marks.length === 1 ? 'One unit' : `${marks.length} units`} would change{' '}
            {marks.length === 1 ? 'its mark' : 'their marks'}{' '}
            {isDoNotDrive ? 'when a safety officer approves it' : 'today'}:
          </p>
          <ul className={styles.changes}>
            {alike(marks).map((group) =>
              group.slice(0, 1).map(({ unitId, from, to, why }) => (
                <li key={unitId}>
                  <p className="row">
                    {from ? <MarkTag mark={from} size={14} /> : 'no mark'} to{' '}
                    {to ? <MarkTag mark={to} size={14} /> : 'no mark'}
                    <b>
                      {group.length} {group.length === 1 ? 'unit' : 'units'}
                    </b>
                  </p>
                  <p>{why}</p>
                  <UnitLinks units={group.map((one) => one.unitId)} most={shownUnits} />
                </li>
              )),
            )}
          </ul>
        </>
      )}
    </section>
  );
}
