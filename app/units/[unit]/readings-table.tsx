import type { ReactNode } from 'react';
import { DataTable } from '@/app/_ui/data-table';
import { distance, moment, noValue, pressureFigure } from '@/app/_ui/format';
import type { SheetReading } from '@/db/reads/unit-sheet-readings';
import type { Reading } from '@/lib/analysis/reading';
import type { UnitsOfMeasure } from '@/lib/analysis/rules';
import type { TraceOfReading } from '@/lib/intake/reading-payload';
import styles from './unit-sheet.module.css';

interface ReadingsTableProps {
  readonly readings: readonly SheetReading[];
  /** Why, by reading. */
  readonly setAside: ReadonlyMap<string, string>;
  readonly units: UnitsOfMeasure;
  /** Readings that whoever looks may amend. */
  readonly amendable: ReadonlySet<string>;
}

export function ReadingsTable({ readings, setAside, units, amendable }: ReadingsTableProps) {
  const vacuum = (value: number | null) => pressureFigure(value, units.pressure);
  const secs = (value: number | null) => (value === null ? noValue : value.toFixed(1));
  return (
    <DataTable label={`Readings, vacuum in ${units.pressure}`} small>
      <thead>
        <tr>
          <th scope="col">Read</th>
          <th scope="col">Line</th>
          <th scope="col" className="number">
            Idle as read
          </th>
          <th scope="col" className="number">
            At sea level
          </th>
          <th scope="col" className="number">
            Lowest
          </th>
          <th scope="col" className="number">
            Recovery, s
          </th>
          <th scope="col" className="number">
            Lost
          </th>
          <th scope="col">Pedal</th>
          <th scope="col" className="number">
            Odometer
          </th>
          <th scope="col">By, gauge</th>
          <th scope="col">Notes</th>
        </tr>
      </thead>
      <tbody>
        {readings.map((one) => {
          const { counts, first } = one;
          const amended = (field: keyof Reading, say: (reading: Reading) => ReactNode) => (
            <Amended isChanged={counts[field] !== first[field]} first={say(first)}>
              {say(counts)}
            </Amended>
          );
          return (
            <tr key={counts.id}>
              <td className={styles.when}>{moment(one.readAt, one.timeZone)}</td>
              <td>{amended('line', ({ line }) => line)}</td>
              <td className="number">{amended('idle', ({ idle }) => vacuum(idle))}</td>
              <td className="number">{vacuum(one.idleSle)}</td>
              <td className="number">{amended('lowest', ({ lowest }) => vacuum(lowest))}</td>
              <td className="number">{amended('recovery', ({ recovery }) => secs(recovery))}</td>
              <td className="number">
                {amended('holdLoss', ({ holdLoss, holdTime }) =>
                  holdLoss === null ? noValue : `${vacuum(holdLoss)} in ${holdTime ?? '?'} s`,
                )}
              </td>
              <td>{amended('pedal', ({ pedal }) => pedal ?? noValue)}</td>
              <td className="number">
                {amended('odometer', ({ odometer }) => distance(odometer, units.distance))}
              </td>
              <td>
                <span className="unbroken">{one.by}</span>
                {counts.gauge && (
                  <>
                    , <span className="unbroken">{counts.gauge}</span>
                  </>
                )}
              </td>
              <td>
                {notesOf(one, setAside.get(counts.id))}{' '}
                {one.hasPhoto && (
                  <a href={`/api/v1/readings/${counts.id}/photo`}>Photo of the line</a>
                )}{' '}
                {amendable.has(counts.id) && (
                  <a className="no-print" href={`/bay/amend/${counts.id}`}>
                    Amend
                  </a>
                )}
              </td>
            </tr>
          );
        })}
      </tbody>
    </DataTable>
  );
}

interface AmendedProps {
  readonly isChanged: boolean;
  readonly first: ReactNode;
  readonly children: ReactNode;
}

/** A correction never hides the first value. */
function Amended({ isChanged, first, children }: AmendedProps) {
  if (!isChanged) return children;
  return (
    <>
      <del>
        <span className="visually-hidden">first recorded </span>
        {first}
      </del>{' '}
      <ins>
        <span className="visually-hidden">amended to </span>
        {children}
      </ins>
    </>
  );
}

function notesOf(
  { isProof, isAmended, asked, note, trace }: SheetReading,
  whySetAside?: string,
): string {
  const notes = [
    isProof && 'proof',
    trace && traceWords(trace),
    isAmended && 'amended',
    ...asked.map((reason) => `amendment asked: ${reason}`),
    whySetAside && `set aside: ${whySetAside}`,
    note,
  ];
  return notes.filter(Boolean).join('; ');
}

function traceWords({ isCorrected, timeConstantS }: TraceOfReading): string {
  const from = `from a gauge’s trace${isCorrected ? ', corrected by hand' : ''}`;
  return timeConstantS === null ? from : `${from}, time constant ${timeConstantS.toFixed(1)} s`;
}
