import { Panel } from '@/app/_ui/panel';
import type { Diagnosis } from '@/lib/analysis/assessment';

/** What the newest reading points at, what speaks against it, and the check that would tell most. */
export function CausePanel({ diagnosis }: { readonly diagnosis: Diagnosis }) {
  const { said, alternatives, confidence, evidenceFor, evidenceAgainst, nextCheck } = diagnosis;
  return (
    <Panel title="Probable cause">
      <p>
        <strong>{said}</strong>, confidence {confidence}
        {alternatives.length > 0 && `; not ruled out: ${alternatives.join(', ')}`}.
      </p>
      <Evidence title="For" evidence={evidenceFor} />
      <Evidence title="Against" evidence={evidenceAgainst} />
      {diagnosis.oilAtBooster && (
        <p>Oil at the booster: booster and line belong to the work, whatever the cause.</p>
      )}
      <p>
        <b>Next check.</b> {nextCheck}
      </p>
    </Panel>
  );
}

function Evidence({ title, evidence }: { title: string; evidence: readonly string[] }) {
  if (evidence.length === 0) return null;
  return (
    <div>
      <h3>{title}</h3>
      <ul>
        {evidence.map((each) => (
          <li key={each}>{each}</li>
        ))}
      </ul>
    </div>
  );
}
