import { type RetentionPolicy, retentionWords } from '@/lib/retention/retention-policy';

/** How long what is kept, in words. */
export function Periods({ policy }: { readonly policy: RetentionPolicy }) {
  return (
    <ul>
      {retentionWords(policy).map((words) => (
        <li key={words}>{words}</li>
      ))}
    </ul>
  );
}
