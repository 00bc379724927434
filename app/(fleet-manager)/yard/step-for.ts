interface Standing {
  readonly active: number;
  readonly total: number;
  /** Whole rows in sight. */
  readonly inSight: number;
}

/** The row that a key moves to; null where the key moves nothing. */
export function stepFor(key: string, { active, total, inSight }: Standing): number | null {
  const within = (row: number) => Math.min(Math.max(0, total - 1), Math.max(0, row));
  switch (key) {
    case 'ArrowDown':
      return within(active + 1);
    case 'ArrowUp':
      return within(active - 1);
    case 'PageDown':
      return within(active + Math.max(1, inSight));
    case 'PageUp':
      return within(active - Math.max(1, inSight));
    case 'Home':
      return 0;
    case 'End':
      return within(total - 1);
    default:
      return null;
  }
}
