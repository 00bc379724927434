import { describe, expect, it } from 'vitest';
import { colourOf, darkTokens } from './colour-tokens';
import { contrastRatio, rgbOf } from './relative-luminance';

const between = (a: string, b: string) => contrastRatio(rgbOf(colourOf(a)), rgbOf(colourOf(b)));

describe('contrast of the tokens by the formula of WCAG 2.2', () => {
  it('gives the published ends of the scale', () => {
    // WCAG 2.2: ratios range from 1 to 21; #767676 on white is the well-known 4.54.
    expect(contrastRatio(rgbOf('#000000'), rgbOf('#ffffff'))).toBeCloseTo(21, 10);
    expect(contrastRatio(rgbOf('#767676'), rgbOf('#ffffff'))).toBeCloseTo(4.54, 2);
  });

  it.each([
    ['ink', 'panel'],
    ['ink', 'ground'],
    ['mute', 'panel'],
    ['mute', 'ground'],
    ['on-ink', 'ink'],
  ])('body text %s on %s reaches 7:1, as the bay card needs', (text, ground) => {
    expect(between(text, ground)).toBeGreaterThanOrEqual(7);
  });

  it.each([
    ['ink', 'chosen'],
    ['mute', 'chosen'],
    ['ink', 'band-80'],
    ['ink', 'band-95'],
    ['on-ink', 'mute'],
  ])('other text %s on %s reaches 4.5:1', (text, ground) => {
    expect(between(text, ground)).toBeGreaterThanOrEqual(4.5);
  });

  const signs = ['holding', 'unread', 'proving', 'drifting', 'book-in', 'out'];
  it.each(
    ['panel', 'ground', 'chosen'].flatMap((ground) =>
      ['edge', ...signs.map((sign) => `mark-${sign}`)].map((sign) => [sign, ground]),
    ),
  )('%s on %s reaches 3:1, as WCAG 1.4.11 asks of signs and borders', (sign, ground) => {
    expect(between(sign ?? '', ground ?? '')).toBeGreaterThanOrEqual(3);
  });

  it('reaches the same on the bay card of a dark shop', () => {
    const dark = darkTokens();
    const between = (a: string, b: string) =>
      contrastRatio(rgbOf(dark.get(a) ?? ''), rgbOf(dark.get(b) ?? ''));
    for (const ground of ['panel', 'ground']) {
      for (const text of ['ink', 'mute']) {
        expect(between(text, ground)).toBeGreaterThanOrEqual(7);
      }
      for (const sign of ['edge', ...signs.map((one) => `mark-${one}`)]) {
        expect(between(sign, ground)).toBeGreaterThanOrEqual(3);
      }
    }
    expect(between('on-ink', 'ink')).toBeGreaterThanOrEqual(7);
    expect(between('mute', 'chosen')).toBeGreaterThanOrEqual(4.5);
  });
});
