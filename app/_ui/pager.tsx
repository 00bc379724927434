import { LinkButton } from '@/app/_ui/button';

interface PagerProps {
  /** From 1. */
  readonly page: number;
  readonly pages: number;
  readonly hrefFor: (page: number) => string;
  /** What is being paged, e.g. "Ledger pages". */
  readonly label: string;
}

export function Pager({ page, pages, hrefFor, label }: PagerProps) {
  if (pages <= 1) return null;
  return (
    <nav aria-label={label} className="row no-print">
      {page > 1 && (
        <LinkButton rel="prev" href={hrefFor(page - 1)}>
          Previous
        </LinkButton>
      )}
      <span>
        Page {page} of {pages}
      </span>
      {page < pages && (
        <LinkButton rel="next" href={hrefFor(page + 1)}>
          Next
        </LinkButton>
      )}
    </nav>
  );
}
