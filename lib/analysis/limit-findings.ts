import { holdLossOf } from '@/lib/analysis/hold-loss';
import type { Limits } from '@/lib/analysis/limits';
import type { SoundReading } from '@/lib/analysis/normalise';
import type { Finding, RuleName } from '@/lib/analysis/rules';
import type { Baseline } from '@/lib/analysis/unit-assessment';
import { type Measured, seriesOf, type Visit } from '@/lib/analysis/visits';

/** What the limits are held against: the visits since the case was last closed, in order. */
export interface LimitEvidence {
  readonly visits: readonly Visit[];
  readonly baseline: Baseline;
  readonly limits: Limits;
  /** Visits since this belt was fitted, whatever was closed since: an order for a pump mends no belt. */
  readonly beltVisits: readonly Visit[];
  /** Where orders are kept, a caution stands until one is closed; otherwise until two visits running are free of it. */
  readonly isHeldUntilClosed: boolean;
}

type Check = (measured: Measured<number>) => Omit<Finding, 'readingIds' | 'on'> | null;

const crossing = (rule: RuleName, isCrossed: boolean, value: number, limit: number) =>
  isCrossed ? { rule, value, limit } : null;

/** Stop limits, each by the newest reading that made the measurement. As read, since braking follows what is there. */
export function stopFindings({ visits, limits, beltVisits }: LimitEvidence): readonly Finding[] {
  const newest = (series: readonly Measured<number>[], check: Check) => {
    const last = series.at(-1);
    return last ? found(last, check(last)) : [];
  };
  const pedal = seriesOf(visits, (reading) => reading.pedal).at(-1);
  const line = seenLines(visits).at(-1);
  const belt = seenBelts(visits.filter(({ day }) => day >= (beltVisits[0]?.day ?? day))).at(-1);
  return [
    ...newest(
      seriesOf(visits, ({ idle }) => idle),
      ({ value }) =>
        crossing('idle below stop', value < limits.idleStopAsRead, value, limits.idleStopAsRead),
    ),
    ...newest(
      seriesOf(visits, ({ lowest }) => lowest),
      ({ value }) =>
        crossing(
          'lowest below stop',
          value < limits.lowestStopAsRead,
          value,
          limits.lowestStopAsRead,
        ),
    ),
    ...newest(
      seriesOf(visits, ({ recovery }) => recovery),
      ({ value }) =>
        crossing('recovery over stop', value > limits.recoveryStop, value, limits.recoveryStop),
    ),
    ...newest(heldLosses(visits, limits), ({ reading }) => holdFinding(reading, limits, 'stop')),
    ...(pedal && pedal.value !== 'normal'
      ? found(pedal, { rule: 'pedal hard', about: pedal.value })
      : []),
    ...(line?.value === 'wet' ? found(line, { rule: 'line wet' }) : []),
    ...(belt && (belt.value === 'off' || belt.value === 'shredded')
      ? found(belt, { rule: 'belt off or shredded', about: belt.value })
      : []),
  ];
}

/** Caution limits: at the newest visit, or still standing from an earlier one. */
export function cautionFindings(evidence: LimitEvidence): readonly Finding[] {
  const { visits, limits, baseline, beltVisits, isHeldUntilClosed } = evidence;
  const standing = (series: readonly Measured<number>[], check: Check) => {
    const oldest = isHeldUntilClosed ? 0 : Math.max(0, series.length - 2);
    for (let k = series.length - 1; k >= oldest; k--) {
      const measured = series[k]!;
      const finding = check(measured);
      if (finding) return found(measured, finding);
    }
    return [];
  };
  const belt = seenBelts(beltVisits).at(-1);
  const recoveries = seriesOf(visits, ({ recovery }) => recovery);
  const ownRecovery =
    baseline.recovery === null ? null : limits.recoveryCautionTimesBaseline * baseline.recovery;
  return [
    ...standing(
      seriesOf(visits, ({ idleSle }) => idleSle),
      ({ value }) =>
        crossing('idle below caution', value < limits.idleCautionSle, value, limits.idleCautionSle),
    ),
    ...standing(
      seriesOf(visits, ({ lowestSle }) => lowestSle),
      ({ value }) =>
        crossing(
          'lowest below caution',
          value < limits.lowestCautionSle,
          value,
          limits.lowestCautionSle,
        ),
    ),
    ...standing(recoveries, ({ value }) =>
      crossing(
        'recovery over caution',
        value > limits.recoveryCaution,
        value,
        limits.recoveryCaution,
      ),
    ),
    ...(ownRecovery === null
      ? []
      : standing(recoveries, ({ value }) =>
          crossing('recovery over baseline', value > ownRecovery, value, ownRecovery),
        )),
    ...standing(heldLosses(visits, limits), ({ reading }) =>
      holdFinding(reading, limits, 'caution'),
    ),
    ...filmFindings(visits, isHeldUntilClosed),
    ...(belt && (belt.value === 'cracked' || belt.value === 'oily')
      ? found(belt, { rule: 'belt worn', about: belt.value })
      : []),
  ];
}

/** Film twice running books the unit in; a first film, until two dry visits running, is a drift. */
function filmFindings(visits: readonly Visit[], isHeldUntilClosed: boolean): readonly Finding[] {
  const lines = seenLines(visits);
  const isOily = (k: number) => lines[k] !== undefined && lines[k].value !== 'dry';
  const last = lines.length - 1;
  const oldestPair = isHeldUntilClosed ? 1 : Math.max(1, last - 1);
  for (let k = last; k >= oldestPair; k--) {
    if (isOily(k) && isOily(k - 1)) return found(lines[k]!, { rule: 'film twice' });
  }
  const recent = isOily(last) ? last : last - 1;
  return isOily(recent) ? found(lines[recent]!, { rule: 'film once' }) : [];
}

const seenLines = (visits: readonly Visit[]) =>
  seriesOf(visits, ({ line }) => (line === 'not seen' ? null : line));

const seenBelts = (visits: readonly Visit[]) =>
  seriesOf(visits, ({ belt }) => (belt === 'not seen' ? null : belt));

const heldOf = ({ holdLoss, holdTime, idle }: SoundReading, limits: Limits) =>
  holdLossOf({ loss: holdLoss, held: holdTime, from: idle }, limits);

/** Holds that say something: a blind one only where it lost too much all the same. */
const heldLosses = (visits: readonly Visit[], limits: Limits) =>
  seriesOf(visits, (reading) => {
    const held = heldOf(reading, limits);
    return held && (!held.isBlind || held.loss > held.caution) ? held.loss : null;
  });

function holdFinding(reading: SoundReading, limits: Limits, level: 'caution' | 'stop') {
  const held = heldOf(reading, limits);
  if (!held) return null;
  const rule = level === 'stop' ? 'hold loss over stop' : 'hold loss over caution';
  const finding = crossing(rule, held.loss > held[level], held.loss, held[level]);
  return finding && { ...finding, about: held.standard === 60 ? '60 s' : '5 min' };
}

const found = (
  { day, reading }: Measured<unknown>,
  finding: Omit<Finding, 'readingIds' | 'on'> | null,
): readonly Finding[] => (finding ? [{ ...finding, on: day, readingIds: [reading.id] }] : []);
