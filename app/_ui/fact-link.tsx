import { Link } from '@/app/_ui/link';
import { factEntry } from '@/lib/bulletins/fact-entry';

interface FactLinkProps {
  readonly unitId: string;
  readonly fact: string;
}

/** The way to where a missing fact is entered. */
export function FactLink({ unitId, fact }: FactLinkProps) {
  const entry = factEntry(fact);
  const unit = encodeURIComponent(unitId);
  return entry.by === 'reading' ? (
    <Link href={`/bay?unit=${unit}`} aria-label={`Read unit ${unitId} for its ${fact}`}>
      Take a reading
    </Link>
  ) : (
    <Link
      href={`/units/${unit}/facts#${entry.field}`}
      aria-label={`Enter the ${fact} of unit ${unitId}`}
    >
      Enter it
    </Link>
  );
}
