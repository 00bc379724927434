import { Link } from '@/app/_ui/link';

interface UnitLinksProps {
  /** All of them, or the first of `count`. */
  readonly units: readonly string[];
  readonly count?: number;
}

const mostShown = 200;

/** Units in one wrapping line, each a way to its sheet; a long list is cut and says so. */
export function UnitLinks({ units, count = units.length }: UnitLinksProps) {
  if (units.length === 0) return null;
  const shown = units.slice(0, mostShown);
  return (
    <p>
      {shown.map((unit, index) => (
        <span key={unit}>
          {index > 0 && ', '}
          <Link className="unbroken" href={`/units/${encodeURIComponent(unit)}`}>
            {unit}
          </Link>
        </span>
      ))}
      {count > shown.length && ` and ${count - shown.length} more`}
    </p>
  );
}
