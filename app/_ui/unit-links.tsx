import { Link } from '@/app/_ui/link';

interface UnitLinksProps {
  readonly units: readonly string[];
  readonly most?: number;
}

/** Units in one wrapping line, each a way to its sheet; a long list is cut and says so. */
export function UnitLinks({ units, most = 200 }: UnitLinksProps) {
  if (units.length === 0) return null;
  return (
    <p>
      {units.slice(0, most).map((unit, index) => (
        <span key={unit}>
          {index > 0 && ', '}
          <Link className="unbroken" href={`/units/${encodeURIComponent(unit)}`}>
            {unit}
          </Link>
        </span>
      ))}
      {units.length > most && ` and ${units.length - most} more`}
    </p>
  );
}
