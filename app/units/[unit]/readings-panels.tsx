import { LinkButton } from '@/app/_ui/button';
import { IdleChart } from '@/app/_ui/charts/idle-chart';
import { SeriesChart } from '@/app/_ui/charts/series-chart';
import { EmptyState } from '@/app/_ui/empty-state';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import { fitmentsOfUnits } from '@/db/reads/fitments-of-units';
import type { UnitOnSheet } from '@/db/reads/unit-on-sheet';
import { unitSheetReadings } from '@/db/reads/unit-sheet-readings';
import { type Actor, may } from '@/lib/access';
import type { UnitsOfMeasure } from '@/lib/analysis/rules';
import { localDay } from '@/lib/calendar';
import { mayAmend } from '@/lib/intake/may-amend';
import { ReadingsTable } from './readings-table';
import { idlePoints, measureCharts } from './sheet-charts';

interface ReadingsPanelsProps {
  readonly sheet: UnitOnSheet;
  readonly units: UnitsOfMeasure;
  readonly person: Actor;
}

/** The charts and the table that they are drawn from. */
export async function ReadingsPanels({ sheet, units, person }: ReadingsPanelsProps) {
  const { unit, shed, verdict, limits } = sheet;
  const { db } = await database();
  const readings = await unitSheetReadings(db, unit.id);
  const newest = readings[0];
  if (!newest) {
    return (
      <Panel title="Readings">
        <EmptyState action={<LinkButton href={`/bay?unit=${unit.id}`}>Read it</LinkButton>}>
          Never read. Read it.
        </EmptyState>
      </Panel>
    );
  }
  const assessment = verdict?.assessment ?? null;
  const setAside = new Map(assessment?.setAside.map(({ readingId, why }) => [readingId, why]));
  const sound = readings.filter(({ counts }) => !setAside.has(counts.id));
  const fitments = (await fitmentsOfUnits(db, [unit.id])).get(unit.id) ?? [];
  const now = new Date();
  const amendable = may(person, 'amend a reading', shed.id)
    ? readings.filter((one) => mayAmend(person, one, now)).map(({ counts }) => counts.id)
    : [];
  const asOf = assessment?.asOf ?? localDay(newest.readAt, shed.timeZone);
  const csvHref = `/api/v1/units/${unit.id}/readings`;
  const shared = { unit: unit.id, asOf, fitments, limits, pressureUnit: units.pressure };
  return (
    <>
      <Panel>
        <IdleChart
          {...shared}
          points={idlePoints(sound, assessment)}
          wearLimit={limits.idleCautionSle}
          stopLimit={limits.idleStopAsRead}
          forecast={assessment?.forecast ?? []}
          passage={assessment?.wear ?? null}
          csvHref={csvHref}
        />
      </Panel>
      {measureCharts(sound, shared).map((spec) => (
        <Panel key={spec.title}>
          <SeriesChart spec={spec} csvHref={csvHref} />
        </Panel>
      ))}
      <Panel title="Readings" aside={<a href={csvHref}>CSV of all readings</a>}>
        <ReadingsTable
          readings={readings}
          setAside={setAside}
          units={units}
          amendable={new Set(amendable)}
        />
      </Panel>
    </>
  );
}
