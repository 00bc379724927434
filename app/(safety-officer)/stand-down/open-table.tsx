import { Checklist } from '@/app/_ui/checklist';
import { DataTable } from '@/app/_ui/data-table';
import { moment } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { MarkTag } from '@/app/_ui/mark';
import type { OpenSpell } from '@/db/reads/open-spells';
import { localDay } from '@/lib/calendar';
import type { DistanceUnit } from '@/lib/measure';
import styles from './board.module.css';
import { DrivenNotes } from './driven-notes';
import { daysWords, named } from './names';

interface OpenTableProps {
  readonly spells: readonly OpenSpell[];
  readonly chosenUnitId: string | null;
  readonly distanceUnit: DistanceUnit;
  readonly mayAcknowledge: boolean;
  readonly now: Date;
}

export function OpenTable({ spells, chosenUnitId, ...shown }: OpenTableProps) {
  return (
    <DataTable label="Units out of service" stacks widths={[9, 19, 20, 27, 16, 9]}>
      <thead>
        <tr>
          <th scope="col">Unit</th>
          <th scope="col">Since</th>
          <th scope="col">Why</th>
          <th scope="col">What blocks return</th>
          <th scope="col">1 · Repair certified</th>
          <th scope="col">2 · Released</th>
        </tr>
      </thead>
      <tbody>
        {spells.map((spell) => (
          <OpenRow
            key={spell.row.id}
            spell={spell}
            isChosen={spell.row.unitId === chosenUnitId}
            {...shown}
          />
        ))}
      </tbody>
    </DataTable>
  );
}

interface OpenRowProps extends Omit<OpenTableProps, 'spells' | 'chosenUnitId'> {
  readonly spell: OpenSpell;
  readonly isChosen: boolean;
}

function OpenRow({ spell, isChosen, distanceUnit, mayAcknowledge, now }: OpenRowProps) {
  const { row, shed, blocks, certificate, driven, people } = spell;
  const next = blocks.find(({ isDone }) => !isDone);
  const days = localDay(now, shed.timeZone) - localDay(row.openedAt, shed.timeZone);
  return (
    <tr aria-current={isChosen || undefined}>
      <th scope="row">
        <Link href={`/stand-down?unit=${encodeURIComponent(row.unitId)}#chosen`} scroll={false}>
          <MarkTag mark="Out of service" word={row.unitId} />
        </Link>
        <div className="small mute">{shed.name}</div>
      </th>
      <td data-label="Since">
        <div className={styles.nowrap}>{moment(row.openedAt, shed.timeZone)}</div>
        <div>{daysWords(days)}</div>
      </td>
      <td data-label="Why" className={styles.why}>
        {row.why}
        {row.note && <div>“{row.note}”</div>}
        <DrivenNotes
          spellId={row.id}
          notes={driven}
          distanceUnit={distanceUnit}
          timeZone={shed.timeZone}
          mayAcknowledge={mayAcknowledge}
        />
        <div className={styles.who}>
          <OpenedBy spell={spell} />
        </div>
      </td>
      <td data-label="Blocks return" className={styles.blocks}>
        <Checklist
          items={[
            ...(row.tagHungAt
              ? []
              : [
                  {
                    key: 'tag',
                    done: false,
                    text: (
                      <>
                        Tag hung: <b>not confirmed</b>
                      </>
                    ),
                  },
                ]),
            ...blocks.map(({ what, isDone }) => ({ key: what, done: isDone, text: what })),
          ]}
        />
        {next && <div className={styles.who}>Next: {next.whoCanDoIt}</div>}
      </td>
      <td data-label="Certified" className={styles.signer}>
        {certificate === 'none' || !row.certifiedAt ? (
          '1 · open'
        ) : (
          <>
            <b>1 · {named(people, row.certifiedBy)}</b>
            <div>{moment(row.certifiedAt, shed.timeZone)}</div>
            {certificate !== 'stands' && <div>{certificate}</div>}
          </>
        )}
      </td>
      <td data-label="Released" className={styles.nowrap}>
        2 · open
      </td>
    </tr>
  );
}

/** What took the unit out: a reading, a bulletin, or somebody's hand. */
function OpenedBy({ spell }: { readonly spell: OpenSpell }) {
  const { row, openingEntry, bulletinNumber, people } = spell;
  const who = named(people, row.openedBy);
  if (bulletinNumber !== null) {
    return (
      <>
        By bulletin <Link href="/effectivity">{bulletinNumber}</Link>, {who}
      </>
    );
  }
  if (openingEntry === null) return `By hand: ${who}`;
  return (
    <>
      By reading{' '}
      <Link href={`/units/${encodeURIComponent(row.unitId)}#reading-${row.readingId}`}>
        {openingEntry}
      </Link>
      , {who}
    </>
  );
}
