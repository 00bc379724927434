import { LinkButton } from '@/app/_ui/button';
import { Facts } from '@/app/_ui/facts';
import { Panel } from '@/app/_ui/panel';
import type { UnitOnSheet } from '@/db/reads/unit-on-sheet';
import { buildDateFromParts, formatBuildDate } from '@/lib/bulletins/build-date';
import { vinTold } from '@/lib/bulletins/vin-told';

interface VinPanelProps {
  readonly unit: UnitOnSheet['unit'];
  /** Where the facts are corrected; left out for who may not. */
  readonly factsAt?: string;
}

const shownFixes = 6;

/** What the VIN implies beside what the label says, and where the two cannot both be right. */
export function VinPanel({ unit, factsAt }: VinPanelProps) {
  const built =
    unit.builtYear === null
      ? null
      : buildDateFromParts(unit.builtYear, unit.builtMonth, unit.builtDay);
  const told = vinTold({ ...unit, built });
  const label = [
    { term: 'Make', value: unit.make },
    { term: 'Model', value: unit.model },
    { term: 'Model year', value: unit.modelYear },
    { term: 'Engine', value: unit.engine },
    { term: 'Built', value: built && formatBuildDate(built) },
  ].map(({ term, value }) => ({ term, value: value ?? 'not on record' }));
  return (
    <Panel title="Build">
      <div className="stack">
        <h3>By the label</h3>
        <Facts facts={label} />
        <h3>By the VIN{unit.vin && ` ${unit.vin}`}</h3>
        {told === null ? <p>No VIN is on record.</p> : <Facts facts={told.implied} />}
        {told?.problems.map(({ message, mend }) => (
          <p key={message}>
            <b>{told.isRefused ? 'Not used: ' : 'Look again: '}</b>
            {message}. {mend}
          </p>
        ))}
        {told && told.fixes.length > 0 && (
          <details>
            <summary>
              {told.fixes.length} changes of one character would make the check digit right
            </summary>
            <p className="small">
              Hold them against the plate; the rule cannot tell which is the mistake.
            </p>
            <ul className="small">
              {told.fixes.slice(0, shownFixes).map(({ position, from, to, vin }) => (
                <li key={vin}>
                  position {position}: {to} for {from}, {vin}
                </li>
              ))}
              {told.fixes.length > shownFixes && <li>and {told.fixes.length - shownFixes} more</li>}
            </ul>
          </details>
        )}
        {told?.contradictions.map((contradiction) => (
          <p key={contradiction}>
            <b>Contradiction: </b>
            {contradiction}. Compare plate, label and registration.
          </p>
        ))}
        {factsAt && (
          <p className="no-print">
            <LinkButton href={factsAt}>Correct or add a fact</LinkButton>
          </p>
        )}
      </div>
    </Panel>
  );
}
