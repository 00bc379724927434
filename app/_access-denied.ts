import 'server-only';
import { forbidden } from 'next/navigation';
import { AccessDenied } from '@/lib/access';

/** The mark by which the framework knows its own refusal and answers 403 with the forbidden page. */
function markOfForbidden(): unknown {
  try {
    return forbidden();
  } catch (refusal) {
    return refusal instanceof Error && 'digest' in refusal ? refusal.digest : undefined;
  }
}

// A read that refuses deep within a page is an answer, not a fault: 403, never 500.
Object.defineProperty(AccessDenied.prototype, 'digest', { value: markOfForbidden() });
