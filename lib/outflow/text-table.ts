/** What would move the cursor or hide text on a terminal. */
const unprintable = /[\p{Cc}\p{Cs}\u202A-\u202E\u2066-\u2069]/gu;

/**
 * Columns in line, two spaces apart, the last one as long as it is.
 *
 * @example textTable(['Unit', 'Mark'], [['0417', 'Holding']]) is 'Unit  Mark\n0417  Holding\n'
 */
export function textTable(header: readonly string[], rows: readonly (readonly string[])[]): string {
  const clean = [header, ...rows].map((cells) =>
    cells.map((cell) => cell.replaceAll(unprintable, '\uFFFD')),
  );
  const widths = header.map((_, k) =>
    clean.reduce((widest, cells) => Math.max(widest, cells[k]?.length ?? 0), 0),
  );
  return clean
    .map(
      (cells) =>
        `${cells
          .map((cell, k) => cell.padEnd(widths[k] ?? 0))
          .join('  ')
          .trimEnd()}\n`,
    )
    .join('');
}
