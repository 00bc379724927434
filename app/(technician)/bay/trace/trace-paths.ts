import type { TraceReading, TraceSample } from '@/lib/analysis/trace';
import type { Kilopascals, Seconds } from '@/lib/measure';

type Place = (value: number) => number;

/** The samples as a path with the least and the most of each pixel, so that no trough is lost. */
export function curvePath(
  samples: readonly TraceSample[],
  [from, to]: readonly [Seconds, Seconds],
  x: Place,
  y: Place,
  columns: number,
): string {
  const shown = samples.filter(({ t }) => t >= from && t <= to);
  const perColumn = Math.max(1, Math.ceil(shown.length / columns));
  const points: TraceSample[] = [];
  for (let at = 0; at < shown.length; at += perColumn) {
    const column = shown.slice(at, at + perColumn);
    const least = column.reduce((low, one) => (one.vacuum < low.vacuum ? one : low));
    const most = column.reduce((high, one) => (one.vacuum > high.vacuum ? one : high));
    points.push(...(least.t < most.t ? [least, most] : [most, least]));
  }
  return joined(points, x, y);
}

const joined = (points: readonly TraceSample[], x: Place, y: Place): string =>
  points.length === 0
    ? ''
    : `M${points.map(({ t, vacuum }) => `${x(t).toFixed(1)} ${y(vacuum).toFixed(1)}`).join('L')}`;

const fitPoints = 60;

/** Idle plateau, lowest, fitted recovery and hold as they were read. */
export function foundPaths(
  reading: TraceReading,
  [from, to]: readonly [Seconds, Seconds],
  x: Place,
  y: Place,
): string {
  const { idle, idleUntil, lowest, lastRelease, fit, keyOff, holdLoss, holdTime } = reading;
  const level = (start: Seconds, end: Seconds, vacuum: Kilopascals) => {
    const [left, right] = [Math.max(start, from), Math.min(end, to)];
    return left < right
      ? joined(
          [
            { t: left, vacuum },
            { t: right, vacuum },
          ],
          x,
          y,
        )
      : '';
  };
  const recovered = () => {
    if (!fit) return '';
    const end = Math.min(keyOff ?? to, to);
    const points = Array.from({ length: fitPoints + 1 }, (_, index) => {
      const t = fit.release + ((end - fit.release) * index) / fitPoints;
      return { t, vacuum: fit.end - fit.drop * Math.exp(-(t - fit.release) / fit.timeConstant) };
    });
    return end > fit.release ? joined(points, x, y) : '';
  };
  const held =
    keyOff === null || holdLoss === null || holdTime === null
      ? ''
      : level(keyOff + holdTime - 4, keyOff + holdTime + 4, (fit?.end ?? idle) - holdLoss);
  return [
    level(idleUntil - 6, idleUntil, idle),
    level(lastRelease - 5, lastRelease + 2, lowest),
    recovered(),
    held,
  ].join('');
}
