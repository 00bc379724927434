export type Rgb = readonly [red: number, green: number, blue: number];

/** Channels in 0 to 1, gamma-encoded. */
export function rgbOf(hex: string): Rgb {
  const channel = (at: number) => Number.parseInt(hex.slice(at, at + 2), 16) / 255;
  return [channel(1), channel(3), channel(5)];
}

/** Threshold .04045 of IEC 61966-2-1; WCAG 2.2 prints .03928, alike for 8-bit colours. */
export const linear = (channel: number): number =>
  channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;

/** WCAG 2.2, definition of relative luminance. */
export function relativeLuminance(rgb: Rgb): number {
  const [red, green, blue] = rgb.map(linear) as [number, number, number];
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** WCAG 2.2, definition of contrast ratio. */
export function contrastRatio(a: Rgb, b: Rgb): number {
  const [lighter, darker] = [relativeLuminance(a), relativeLuminance(b)].sort((x, y) => y - x) as [
    number,
    number,
  ];
  return (lighter + 0.05) / (darker + 0.05);
}
