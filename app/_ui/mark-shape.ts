import type { Mark } from '@/lib/analysis/assessment';

type Corner = readonly [x: number, y: number];

/** A glyph on a 20 by 20 square: told apart by shape alone, at 12 px and in grey print. */
export interface MarkShape {
  readonly polygon?: readonly Corner[];
  /** Punched out of the polygon. */
  readonly hole?: { readonly x: number; readonly y: number; readonly radius: number };
  readonly ring?: {
    readonly radius: number;
    readonly width: number;
    readonly dashes?: number;
    readonly leftHalfFilled?: boolean;
  };
}

export const markShape: Record<Mark, MarkShape> = {
  Holding: { ring: { radius: 7, width: 2.6 } },
  Unread: { ring: { radius: 7, width: 2.6, dashes: 6 } },
  Proving: { ring: { radius: 7.2, width: 2, leftHalfFilled: true } },
  Drifting: {
    polygon: [
      [2.5, 3.5],
      [2.5, 16.5],
      [17.5, 16.5],
    ],
  },
  'Book in': {
    polygon: [
      [1.5, 3.5],
      [12.5, 3.5],
      [18.5, 10],
      [12.5, 16.5],
      [1.5, 16.5],
    ],
    hole: { x: 6, y: 10, radius: 2.2 },
  },
  'Out of service': {
    polygon: [
      [2.5, 2],
      [8.1, 2],
      [8.1, 7.4],
      [11.9, 7.4],
      [11.9, 2],
      [17.5, 2],
      [17.5, 18],
      [11.9, 18],
      [11.9, 12.6],
      [8.1, 12.6],
      [8.1, 18],
      [2.5, 18],
    ],
  },
};

/** Share of each dash's turn that is drawn. */
export const dashShare = 0.58;
