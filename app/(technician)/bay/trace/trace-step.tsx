'use client';

import { useEffect, useState } from 'react';
import { readNote, writeNote } from '@/app/_offline/bay-store';
import { noMarks, type TraceMarks } from '@/lib/bay-card/trace-marks';
import type { TraceColumns } from '@/lib/intake/trace-csv';
import { traceLayout } from '@/lib/intake/trace-layout';
import type { Kilopascals } from '@/lib/measure';
import type { StepProps } from '../reading-steps';
import { AskedFor } from '../screen';
import { CheckTrace } from './check-trace';
import type { KeptTrace } from './kept-trace';
import { MapColumns } from './map-columns';
import { PickTrace } from './pick-trace';
import { readTraceFile } from './read-trace-file';

interface TraceStepProps extends StepProps {
  readonly ambient: Kilopascals;
}

const notAFile = 'No line of that file holds a time and a pressure. Choose the file of the gauge.';
const notKept = 'This device could not keep that. Free some space and try again.';

/** A logging gauge's file fills the steps: pick it, say once which column is which, check what was found. */
export function TraceStep({ draft, touch, back, ambient }: TraceStepProps) {
  const [kept, setKept] = useState<KeptTrace | null | 'opening'>('opening');
  const [trouble, setTrouble] = useState<string | null>(null);
  useEffect(() => {
    readNote('trace').then(
      (found) => setKept(found?.draftId === draft.id ? found : null),
      () => setKept(null),
    );
  }, [draft.id]);

  const keep = (next: KeptTrace | null) => {
    setKept(next);
    writeNote('trace', next).then(
      () => setTrouble(null),
      () => setTrouble(notKept),
    );
  };
  const pick = async (file: File) => {
    const text = await readTraceFile(file).catch(() => null);
    const layout = text === null ? null : traceLayout(text);
    if (text === null || !layout) return setTrouble(notAFile);
    const known = await readNote('traceColumns');
    const columns = known?.[layout.heading.join('\t')] ?? null;
    keep({ draftId: draft.id, name: file.name, text, columns, marks: noMarks });
  };
  const choose = async (trace: KeptTrace, columns: TraceColumns) => {
    keep({ ...trace, columns, marks: noMarks });
    const heading = traceLayout(trace.text)?.heading.join('\t') ?? '';
    await writeNote('traceColumns', { ...(await readNote('traceColumns')), [heading]: columns });
  };

  if (kept === 'opening') return <AskedFor title="The gauge’s trace" />;
  if (!kept) return <PickTrace trouble={trouble} pick={pick} back={back} />;
  if (!kept.columns) {
    return (
      <MapColumns
        text={kept.text}
        name={kept.name}
        gaugeUnit={draft.pressureUnit}
        choose={(columns) => void choose(kept, columns)}
        back={() => keep(null)}
      />
    );
  }
  return (
    <CheckTrace
      text={kept.text}
      columns={kept.columns}
      marks={kept.marks}
      setMarks={(marks: TraceMarks) => keep({ ...kept, marks })}
      pressureUnit={draft.pressureUnit}
      ambient={ambient}
      trouble={trouble}
      mapAgain={() => keep({ ...kept, columns: null })}
      back={() => keep(null)}
      use={(filled) => touch({ type: 'fill from trace', filled })}
    />
  );
}
