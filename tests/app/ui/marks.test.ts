import { describe, expect, it } from 'vitest';
import { dashShare, type MarkShape, markShape } from '@/app/_ui/mark-shape';
import { type Mark, marks } from '@/lib/analysis/assessment';
import { colourOf } from './colour-tokens';
import { linear, type Rgb, rgbOf } from './relative-luminance';

/** Even-odd rule. */
function liesInside(x: number, y: number, corners: NonNullable<MarkShape['polygon']>): boolean {
  return corners.reduce((inside, [ax, ay], index) => {
    const [bx, by] = corners[(index + 1) % corners.length] ?? [ax, ay];
    const crosses = ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax);
    return crosses ? !inside : inside;
  }, false);
}

function isInked({ polygon, hole, ring }: MarkShape, x: number, y: number): boolean {
  if (polygon) {
    return liesInside(x, y, polygon) && !(hole && Math.hypot(x - hole.x, y - hole.y) < hole.radius);
  }
  if (!ring) return false;
  const radius = Math.hypot(x - 10, y - 10);
  if (ring.leftHalfFilled && x < 10 && radius < ring.radius) return true;
  const turn = (Math.atan2(y - 10, x - 10) / (2 * Math.PI) + 1) % 1;
  const isDrawn = !ring.dashes || (turn * ring.dashes) % 1 < dashShare;
  return isDrawn && Math.abs(radius - ring.radius) < ring.width / 2;
}

/** Ink in each pixel of a glyph drawn `size` pixels wide, from 8 by 8 samples a pixel. */
function inkOf(shape: MarkShape, size: number): number[] {
  const samples = 8;
  return Array.from({ length: size * size }, (_, pixel) => {
    let ink = 0;
    for (let sample = 0; sample < samples * samples; sample++) {
      const x = (pixel % size) + ((sample % samples) + 0.5) / samples;
      const y = Math.floor(pixel / size) + (Math.floor(sample / samples) + 0.5) / samples;
      if (isInked(shape, (x * 20) / size, (y * 20) / size)) ink += 1;
    }
    return ink / (samples * samples);
  });
}

const pairsOf = <Item>(items: readonly Item[]): [Item, Item][] =>
  items.flatMap((a, index) => items.slice(index + 1).map((b): [Item, Item] => [a, b]));

describe('marks are told apart by shape alone', () => {
  it.each(pairsOf(marks))('%s and %s differ at 12 px in one ink', (a, b) => {
    const [inkA, inkB] = [inkOf(markShape[a], 12), inkOf(markShape[b], 12)];
    const difference = inkA.reduce(
      (sum, ink, pixel) => sum + Math.abs(ink - (inkB[pixel] ?? 0)),
      0,
    );
    const heavier = Math.max(
      ...[inkA, inkB].map((ink) => ink.reduce((sum, each) => sum + each, 0)),
    );
    // Own choice: a third of the heavier glyph's ink must stand elsewhere.
    expect(difference / heavier).toBeGreaterThan(1 / 3);
  });
});

/** Machado, Oliveira and Fernandes 2009, severity 1.0, on linear RGB. */
const visions: Record<string, readonly (readonly number[])[]> = {
  full: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritan: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

/** CIE 1976 L*a*b* from linear sRGB, D65 (IEC 61966-2-1, CIE 15). */
function labOf([red, green, blue]: Rgb): [number, number, number] {
  const cube = (t: number) => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);
  const x = cube((0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.9505);
  const y = cube(0.2126 * red + 0.7152 * green + 0.0722 * blue);
  const z = cube((0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

function seen(hex: string, vision: string): [number, number, number] {
  const rgb = rgbOf(hex).map(linear);
  const rows = (visions[vision] ?? []).map((row) =>
    Math.min(
      1,
      Math.max(
        0,
        row.reduce((sum, part, index) => sum + part * (rgb[index] ?? 0), 0),
      ),
    ),
  );
  return labOf(rows as unknown as Rgb);
}

const token: Record<Mark, string> = {
  Holding: 'mark-holding',
  Unread: 'mark-unread',
  Proving: 'mark-proving',
  Drifting: 'mark-drifting',
  'Book in': 'mark-book-in',
  'Out of service': 'mark-out',
};

describe('marks that someone must act on are told apart by colour alone', () => {
  it('white is L* 100', () => {
    expect(labOf([1, 1, 1])[0]).toBeCloseTo(100, 6);
  });

  const coloured = marks.filter((mark) => mark !== 'Unread');
  it.each(
    Object.keys(visions).flatMap((vision) =>
      pairsOf(coloured).map(([a, b]): [string, Mark, Mark] => [vision, a, b]),
    ),
  )('%s vision: %s and %s', (vision, a, b) => {
    const [first, second] = [seen(colourOf(token[a]), vision), seen(colourOf(token[b]), vision)];
    const difference = Math.hypot(...first.map((part, index) => part - (second[index] ?? 0)));
    // Own choice: six times the 2.3 that is commonly taken as just noticeable.
    expect(difference).toBeGreaterThan(6 * 2.3);
  });

  it('Holding and Unread share one grey: no colour for what is normal or merely silent', () => {
    expect(colourOf('mark-holding')).toBe(colourOf('mark-unread'));
  });
});
