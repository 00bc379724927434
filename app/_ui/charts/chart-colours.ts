/** Read from the page's tokens, so that the layer follows print and forced colours. */
export interface ChartColours {
  readonly ink: string;
  readonly mute: string;
  readonly edge: string;
  readonly panel: string;
  readonly grid: string;
  readonly band80: string;
  readonly band95: string;
  readonly act: string;
  readonly font: string;
}

export function chartColoursOf(element: Element): ChartColours {
  const style = getComputedStyle(element);
  const token = (name: string) => style.getPropertyValue(name).trim();
  return {
    ink: token('--ink'),
    mute: token('--mute'),
    edge: token('--edge'),
    panel: token('--panel'),
    grid: token('--grid'),
    band80: token('--band-80'),
    band95: token('--band-95'),
    act: token('--mark-book-in'),
    font: style.fontFamily,
  };
}
