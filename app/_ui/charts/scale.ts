/** Maps a stretch of values onto a stretch of the drawing, straight. */
export interface Scale {
  readonly from: number;
  readonly to: number;
  readonly at: (value: number) => number;
}

export function linearScale(
  domain: readonly [number, number],
  range: readonly [number, number],
): Scale {
  const [from, to] = domain;
  const [start, end] = range;
  const perUnit = to === from ? 0 : (end - start) / (to - from);
  return { from, to, at: (value) => start + (value - from) * perUnit };
}

/** Round steps of 1, 2 or 5 times a power of ten that cover `low` to `high` in about `count` parts. */
export function roundTicks(low: number, high: number, count: number): readonly number[] {
  const span = high > low ? high - low : Math.max(1, Math.abs(high) * 0.1);
  const power = 10 ** Math.floor(Math.log10(span / count));
  const step = power * ([1, 2, 5, 10].find((factor) => span / (power * factor) <= count) ?? 10);
  const first = Math.floor(low / step + 1e-9);
  const last = Math.max(first + 1, Math.ceil(high / step - 1e-9));
  return Array.from({ length: last - first + 1 }, (_, index) =>
    Number(((first + index) * step).toPrecision(12)),
  );
}
