import {
  fewestVisits,
  isFlagged,
  type JudgedSegment,
} from '@/lib/analysis/backtest/score-forecasts';

const width = 480;
const height = 320;
const left = 56;
const right = 16;
const top = 36;
const bottom = 48;

interface Axis {
  readonly label: string;
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly number[];
}

/** A plain line plot on white, readable in print. */
function plot(title: string, x: Axis, y: Axis, marks: (at: Place) => string): string {
  const at: Place = {
    x: (value) => left + ((value - x.from) / (x.to - x.from)) * (width - left - right),
    y: (value) => height - bottom - ((value - y.from) / (y.to - y.from)) * (height - top - bottom),
  };
  const text = (px: number, py: number, content: string, more = '') =>
    `<text x="${px.toFixed(1)}" y="${py.toFixed(1)}"${more}>${content}</text>`;
  const line = (x1: number, y1: number, x2: number, y2: number) =>
    `<line x1="${x1.toFixed(1)}" y1="${y1.toFixed(1)}" x2="${x2.toFixed(1)}" y2="${y2.toFixed(1)}" stroke="#d0d0d0"/>`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" font-family="sans-serif" font-size="12" fill="#222">`,
    `<title>${title}</title><rect width="${width}" height="${height}" fill="#fff"/>`,
    text(left, 20, title, ' font-size="13" font-weight="bold"'),
    ...x.ticks.map(
      (tick) =>
        line(at.x(tick), top, at.x(tick), height - bottom) +
        text(at.x(tick), height - bottom + 16, String(tick), ' text-anchor="middle"'),
    ),
    ...y.ticks.map(
      (tick) =>
        line(left, at.y(tick), width - right, at.y(tick)) +
        text(left - 6, at.y(tick) + 4, String(tick), ' text-anchor="end"'),
    ),
    text((left + width - right) / 2, height - 10, x.label, ' text-anchor="middle"'),
    `<text transform="translate(14 ${(top + height - bottom) / 2}) rotate(-90)" text-anchor="middle">${y.label}</text>`,
    marks(at),
    '</svg>\n',
  ].join('\n');
}

interface Place {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
}

const probability = { from: 0, to: 1, ticks: [0, 0.2, 0.4, 0.6, 0.8, 1] };
const bins = [0, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1];

/** How often the limit was met within a year against how probable it had been called. */
export function calibrationPlot(segments: readonly JudgedSegment[]): string {
  const found = bins.map(() => ({ visits: 0, said: 0, met: 0 }));
  for (const { visits, crossing } of segments) {
    for (const visit of visits) {
      if (visit.count < fewestVisits || (crossing !== null && crossing <= visit.day)) continue;
      const bin = found[bins.findLastIndex((from) => from <= visit.probabilityWithin1Year)]!;
      bin.visits++;
      bin.said += visit.probabilityWithin1Year;
      if (crossing !== null && crossing <= visit.day + 365) bin.met++;
    }
  }
  return plot(
    'Meeting the wear limit within a year',
    { label: 'probability forecast', ...probability },
    { label: 'share that did', ...probability },
    (at) =>
      [
        `<line x1="${at.x(0)}" y1="${at.y(0)}" x2="${at.x(1)}" y2="${at.y(1)}" stroke="#888" stroke-dasharray="4 3"/>`,
        ...found
          .filter(({ visits }) => visits >= 10)
          .map(({ visits, said, met }) => {
            const share = met / visits;
            const spread = 1.28 * Math.sqrt((share * (1 - share)) / visits);
            const x = at.x(said / visits).toFixed(1);
            const high = at.y(Math.min(1, share + spread)).toFixed(1);
            const low = at.y(Math.max(0, share - spread)).toFixed(1);
            return `<line x1="${x}" y1="${high}" x2="${x}" y2="${low}" stroke="#222"/><circle cx="${x}" cy="${at.y(share).toFixed(1)}" r="4"/>`;
          }),
      ].join('\n'),
  );
}

/** Share of gradual crossings already flagged, by days left. */
export function leadPlot(segments: readonly JudgedSegment[]): string {
  const leads = segments
    .filter(({ crossedInService, isSudden }) => crossedInService && !isSudden)
    .flatMap(({ visits, crossing }) => {
      const before = visits.filter(({ day }) => day < crossing!);
      if (before.length < fewestVisits) return [];
      const first = before.find((visit) => isFlagged(visit));
      return [first ? crossing! - first.day : 0];
    });
  const days = Array.from({ length: 74 }, (_, k) => k * 10);
  return plot(
    'Crossings already flagged',
    { label: 'days before the crossing', from: 730, to: 0, ticks: [730, 540, 365, 180, 90, 0] },
    { label: 'share flagged', ...probability },
    (at) => {
      const points = days.map((day) => {
        const share = leads.filter((lead) => lead > day).length / Math.max(1, leads.length);
        return `${at.x(day).toFixed(1)},${at.y(share).toFixed(1)}`;
      });
      return `<polyline points="${points.join(' ')}" fill="none" stroke="#222" stroke-width="2"/>`;
    },
  );
}
