import type { fitment, reading } from '@/db/schema';
import { ambientPressureAt, seaLevelPressure } from '@/lib/atmosphere';
import { dayFromIso, isoFromDay } from '@/lib/calendar';
import { fromKilometres, fromKilopascals, toKilometres, toKilopascals } from '@/lib/measure';
import type { Chance } from './chance';
import { people, sheds } from './places-and-people';
import { type InventedUnit, yearlyDistanceKm } from './units';

export type ReadingRow = Omit<typeof reading.$inferInsert, 'payloadDigest'>;
export type FitmentRow = typeof fitment.$inferInsert;

export interface InventedHistory {
  readonly unit: InventedUnit;
  readonly readings: readonly ReadingRow[];
  readonly fitments: readonly FitmentRow[];
  /** Odometer on the last day of the history. */
  readonly odometerKm: number;
}

/** How a source of vacuum ages in this story: psi of sea-level equivalent lost after so many years. */
interface Ageing {
  readonly lost: (years: number) => number;
  readonly holdLossAYear: number;
  readonly filmAfterYears: number;
}

const never = Number.POSITIVE_INFINITY;

function inventAgeing(chance: Chance): Ageing {
  const draw = chance.uniform();
  const onset = chance.between(0.3, 5);
  const after = (years: number) => Math.max(0, years - onset);
  const filmAfterYears = chance.happens(0.04) ? chance.between(1.5, 5) : never;
  const leak = { holdLossAYear: 0, filmAfterYears };
  if (draw < 0.55) return { lost: () => 0, ...leak };
  if (draw < 0.74) {
    const rate = chance.between(0.4, 1.3);
    return { lost: (years) => rate * after(years), ...leak };
  }
  if (draw < 0.94) {
    const span = chance.between(1.4, 3);
    return { lost: (years) => 3 * (after(years) / span) ** 2, ...leak };
  }
  return {
    lost: (years) => 0.12 * after(years),
    holdLossAYear: chance.between(0.05, 0.2),
    filmAfterYears,
  };
}

const uuidFrom = (chance: Chance): string => {
  const hex = () => Math.floor(chance.uniform() * 16).toString(16);
  const run = (length: number) => Array.from({ length }, hex).join('');
  return `${run(8)}-${run(4)}-4${run(3)}-a${run(3)}-${run(12)}`;
};

const rounded = (value: number, decimals = 1) => Number(value.toFixed(decimals));

/** One unit's years up to `until`: quarterly readings, belts, and pumps replaced once they were weak. */
export function inventHistory(chance: Chance, unit: InventedUnit, until: number): InventedHistory {
  const shed = sheds.find(({ id }) => id === unit.shedId) ?? sheds[0];
  const technicians = people.filter(
    ({ role, shedIds }) => role === 'technician' && shedIds.includes(shed.id),
  );
  const kmPerDay = yearlyDistanceKm(chance) / 365.25;
  const started = dayFromIso(unit.trackedFrom) ?? until;
  const builtOn = dayFromIso(`${unit.builtYear}-01-01`) ?? started;
  const startKm = Math.max(0, started - builtOn - 180) * kmPerDay * chance.between(0.85, 1.1);
  const odometerOn = (day: number) => startKm + (day - started) * kmPerDay;
  const ambient = ambientPressureAt(shed.elevationM);
  const readings: ReadingRow[] = [];
  const fitments: FitmentRow[] = [];

  const newPart = (
    part: FitmentRow['part'],
    revision: string,
    day: number,
    km = odometerOn(day),
  ): FitmentRow => ({
    id: uuidFrom(chance),
    unitId: unit.id,
    part,
    revision,
    dateCode: chance.happens(0.7)
      ? isoFromDay(day - 60)
          .slice(2, 7)
          .replace('-', '')
      : null,
    fittedOn: isoFromDay(day),
    fittedOdometerKm: rounded(km, 0),
    removedOn: null,
    removedOdometerKm: null,
    whyRemoved: null,
  });
  const remove = (row: FitmentRow, day: number, why: FitmentRow['whyRemoved']) => {
    row.removedOn = isoFromDay(day);
    row.removedOdometerKm = rounded(odometerOn(day), 0);
    row.whyRemoved = why;
    fitments.push(row);
  };

  const beltLimitKm = toKilometres(50_000, 'mi');
  const beltAgeKm = (odometerOn(started) % beltLimitKm) * chance.between(0.5, 1);
  let belt = newPart('belt', 'B4', started, Math.max(0, odometerOn(started) - beltAgeKm));
  let pump = newPart('pump', (unit.builtYear ?? 0) < 2019 ? 'A' : 'B', started, 0);
  let ageing = inventAgeing(chance);
  let baseline = Math.min(13.9, Math.max(12.6, chance.normal(13.25, 0.3)));
  let segmentStart = started;
  let repairOn = never;
  const stopsReadingAt = chance.happens(0.07) ? until - chance.between(120, 260) : until;
  const isNeverRead = chance.happens(0.02);
  const startOffset = chance.between(5, 80);

  for (let day = started + startOffset; day <= until; day += 91 + chance.normal(0, 6)) {
    const date = Math.round(day);
    if (repairOn <= date) {
      remove(pump, repairOn, 'worn');
      pump = newPart('pump', 'C', repairOn);
      ageing = inventAgeing(chance);
      baseline = chance.between(12.9, 13.7);
      segmentStart = repairOn;
      repairOn = never;
    }
    if (
      odometerOn(date) - (belt.fittedOdometerKm ?? 0) >
      beltLimitKm * chance.between(0.97, 1.04)
    ) {
      remove(belt, date - 3, chance.happens(0.2) ? 'worn' : 'preventive');
      belt = newPart('belt', 'B5', date - 3);
    }
    if (date > stopsReadingAt || isNeverRead) continue;
    const years = (date - segmentStart) / 365.25;
    const idleSle = Math.max(3, baseline - ageing.lost(years));
    const asRead = (sle: number) => (sle * ambient) / seaLevelPressure;
    const noise = () => chance.normal(0, 0.13);
    const idle = asRead(idleSle) + noise();
    const holdLoss =
      Math.abs(chance.normal(0.1, 0.04)) + ageing.holdLossAYear * Math.max(0, years - 1);
    const technician = chance.pick(technicians);
    const inShedUnit = (psi: number) =>
      rounded(fromKilopascals(toKilopascals(psi, 'psi'), shed.pressureUnit));
    const lowest = Math.max(0, asRead(0.83 * idleSle) + noise());
    const keyedIdle = inShedUnit(idle);
    const keyedLowest = inShedUnit(Math.min(lowest, idle - 0.2));
    const keyedLoss = inShedUnit(holdLoss);
    const odometer = Math.round(fromKilometres(odometerOn(date), 'mi'));
    const recovery = rounded(Math.max(3, chance.normal(6.4, 0.5) + 0.25 * (baseline - idleSle)));
    const toKpa = (keyed: number) => toKilopascals(keyed, shed.pressureUnit);
    const readAt = new Date(date * 86_400_000 + (15 + chance.uniform() * 8) * 3_600_000);
    readings.push({
      id: uuidFrom(chance),
      unitId: unit.id,
      shedId: shed.id,
      technicianId: technician.id,
      // Whichever was at hand, by the last digit of the odometer.
      gaugeId: `${shed.id}-${1 + (odometer % 2)}`,
      readOn: isoFromDay(date),
      readAt,
      receivedAt: new Date(readAt.getTime() + 60_000),
      idleVacuumKpa: toKpa(keyedIdle),
      lowestKpa: toKpa(keyedLowest),
      recoveryS: recovery,
      holdLossKpa: toKpa(keyedLoss),
      holdTimeS: 60,
      line: years > ageing.filmAfterYears ? 'film' : 'dry',
      pedal: 'normal',
      odometerKm: toKilometres(odometer, 'mi'),
      isClipTugged: true,
      keyed: {
        idle: { value: String(keyedIdle), unit: shed.pressureUnit },
        lowest: { value: String(keyedLowest), unit: shed.pressureUnit },
        holdLoss: { value: String(keyedLoss), unit: shed.pressureUnit },
        recovery: { value: String(recovery), unit: 's' },
        odometer: { value: String(odometer), unit: 'mi' },
      },
      source: 'demo',
    });
    if (idleSle < 10.2 && repairOn === never) repairOn = date + Math.round(chance.between(14, 75));
  }
  fitments.push(pump, belt);
  return { unit, readings, fitments, odometerKm: odometerOn(until) };
}
