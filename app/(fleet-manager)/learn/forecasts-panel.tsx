import { EmptyState } from '@/app/_ui/empty-state';
import { type Fact, Facts } from '@/app/_ui/facts';
import { noValue } from '@/app/_ui/format';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { forecastRecord } from '@/db/reads/forecast-record';
import { localDay } from '@/lib/calendar';
import { keptForTheDay } from './kept-for-the-day';

const forecastRecordOfDay = keptForTheDay(forecastRecord);

/** A share or a middle of fewer cases than this says nothing of the next one. */
const fewestCases = 5;

const percent = (share: number | null): string =>
  share === null ? noValue : `${(100 * share).toFixed(0)}%`;
const days = (value: number | null | undefined): string =>
  value == null ? noValue : `${Math.round(value)} days`;

export async function ForecastsPanel({ person }: { readonly person: SignedInPerson }) {
  const { db } = await database();
  const today = localDay(new Date(), await clockOfPerson(db, person));
  const { scores, segments, units, unitsSampled } = await forecastRecordOfDay(person, today);
  const title = 'How good our forecasts were';
  if (segments === 0) {
    return (
      <Panel title={title}>
        <EmptyState>No history is long enough to look back on: it takes four readings.</EmptyState>
      </Panel>
    );
  }
  const { crossings, flaggedBefore, stableYears, falseAlarmsPer1000Years } = scores;
  const flagged = Math.round((flaggedBefore ?? 0) * crossings);
  const ofCrossings = (words: string) =>
    crossings < fewestCases ? `too few limits met to say: ${crossings}` : words;
  const ofForecasts = (words: string) =>
    scores.flaggedForecasts < fewestCases
      ? `too few such forecasts to say: ${scores.flaggedForecasts}`
      : words;
  const alarms = Math.round(((falseAlarmsPer1000Years ?? 0) * stableYears) / 1000);
  const facts: Fact[] = [
    { term: 'Limits met', value: `${crossings}, ${flagged} of them foretold` },
    { term: 'Missed alarms', value: `${crossings - flagged} of ${crossings}` },
    { term: 'Foretold 90 days ahead', value: ofCrossings(percent(scores.flagged90DaysAhead)) },
    {
      term: 'False alarms',
      value: `${alarms} in ${stableYears.toFixed(0)} unit-years without a limit met (${falseAlarmsPer1000Years?.toFixed(1) ?? noValue} in 1,000)`,
    },
    {
      term: '8-in-10 range held the day',
      value: ofForecasts(`${percent(scores.coverage80)} of ${scores.flaggedForecasts} forecasts`),
    },
    { term: '9-in-10 range held the day', value: ofForecasts(percent(scores.coverage90)) },
    {
      term: 'Middle date was off by',
      value: ofCrossings(
        `${scores.medianAbsoluteError.map(days).join(', ')} (one, two, three readings before)`,
      ),
    },
  ];
  return (
    <Panel title={title}>
      <Facts facts={facts} />
      <p className="small mute">
        {segments} histories of {unitsSampled} units
        {unitsSampled < units && `, evenly chosen from ${units}`}, replayed as they were known at
        each visit. A limit counts as met where the next reading or a repair bears it out; an alarm
        is false where a whole year of readings without a limit followed it. Units repaired before a
        limit was met count for neither.
      </p>
    </Panel>
  );
}
