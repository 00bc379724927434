import styles from './chart.module.css';

interface LineMarkProps {
  readonly line: 'film' | 'wet';
  readonly x: number;
  readonly y: number;
}

/** A drop at the foot of the reading: outlined for a film of oil in the line, filled for wet. */
export function LineMark({ line, x, y }: LineMarkProps) {
  return (
    <path
      className={line === 'wet' ? styles.wet : styles.film}
      d={`M${x.toFixed(1)} ${(y - 7).toFixed(1)}c1.6 3.4 4 5 4 8a4 4 0 0 1 -8 0c0 -3 2.4 -4.6 4 -8z`}
    />
  );
}
