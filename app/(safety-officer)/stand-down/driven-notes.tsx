import { TextAreaField } from '@/app/_ui/field';
import { distance, moment } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import type { DrivenOut } from '@/db/reads/driven-while-out';
import type { DistanceUnit } from '@/lib/measure';
import { ActForm } from '../act-form';
import { acknowledgeDriven } from './actions';

interface DrivenNotesProps {
  readonly spellId: string;
  readonly notes: readonly DrivenOut[];
  readonly distanceUnit: DistanceUnit;
  readonly timeZone: string;
  readonly mayAcknowledge: boolean;
}

/** Each sign that a unit was driven in its spell, and what a safety officer found out about it. */
export function DrivenNotes({ spellId, notes, mayAcknowledge, ...shown }: DrivenNotesProps) {
  return notes.map(({ entry, kilometres, seenBy, acknowledged }) => (
    <div key={entry}>
      <b>Driven {distance(kilometres, shown.distanceUnit)} while out</b>, by {seenBy},{' '}
      <Link href={`/ledger?entry=${entry}`}>entry {entry}</Link>.
      {acknowledged ? (
        <div>
          Acknowledged by {acknowledged.by}, {moment(acknowledged.at, shown.timeZone)}: “
          {acknowledged.note}”
        </div>
      ) : (
        <div>
          Safety officer: find out who and why today.
          {mayAcknowledge && (
            <details className="no-print">
              <summary>Acknowledge</summary>
              <ActForm
                action={acknowledgeDriven}
                hidden={{ spellId, drivenEntry: String(entry) }}
                button="Acknowledge the driving"
              >
                <TextAreaField
                  id={`driven-${entry}`}
                  name="note"
                  label="Who drove it, why, and what was done"
                  rows={3}
                  required
                />
              </ActForm>
            </details>
          )}
        </div>
      )}
    </div>
  ));
}
