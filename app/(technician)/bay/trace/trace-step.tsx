'use client';

import { useEffect, useState } from 'react';
import { readNote, writeNote } from '@/app/_offline/bay-store';
import { noMarks, type TraceMarks } from '@/lib/bay-card/trace-marks';
import { parseTraceCsv, type TraceColumns } from '@/lib/intake/trace-csv';
import { traceLayout } from '@/lib/intake/trace-layout';
import type { Kilopascals } from '@/lib/measure';
import type { StepProps } from '../reading-steps';
import { AskedFor } from '../screen';
import { CheckTrace } from './check-trace';
import type { KeptTrace } from './kept-trace';
import { MapColumns } from './map-columns';
import { PickTrace } from './pick-trace';
import { mostBytes, readTraceFile } from './read-trace-file';

interface TraceStepProps extends StepProps {
  readonly ambient: Kilopascals;
}

const notAFile = 'No line of that file holds a time and a pressure. Choose the file of the gauge.';
const tooLarge = 'That file is larger than any log of this test. Choose the file of the gauge.';
const notKept = 'This device could not keep that. Free some space and try again.';

/** A logging gauge's file fills the steps: pick it, say once which column is which, check what was found. */
export function TraceStep({ draft, touch, back, ambient }: TraceStepProps) {
  const [kept, setKept] = useState<KeptTrace | null | 'opening'>('opening');
  const [isMapping, setIsMapping] = useState(false);
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
    if (file.size > mostBytes) return setTrouble(tooLarge);
    const text = await readTraceFile(file).catch(() => null);
    const layout = text === null ? null : traceLayout(text);
    if (text === null || !layout) return setTrouble(notAFile);
    const known = await readNote('traceColumns');
    const chosen = known?.[layout.heading.join('\t')];
    // What the columns known cannot read is shown with its problem, where they are chosen.
    const columns = chosen && parseTraceCsv(text, chosen).ok ? chosen : null;
    keep({ draftId: draft.id, name: file.name, text, columns, marks: noMarks });
  };
  const choose = async (trace: KeptTrace, columns: TraceColumns) => {
    keep({ ...trace, columns, marks: noMarks });
    setIsMapping(false);
    const heading = traceLayout(trace.text)?.heading.join('\t') ?? '';
    await writeNote('traceColumns', { ...(await readNote('traceColumns')), [heading]: columns });
  };

  if (kept === 'opening') return <AskedFor title="The gauge’s trace" />;
  if (!kept) return <PickTrace trouble={trouble} pick={pick} back={back} />;
  if (!kept.columns || isMapping) {
    return (
      <MapColumns
        text={kept.text}
        name={kept.name}
        chosen={kept.columns}
        gaugeUnit={draft.pressureUnit}
        choose={(columns) => void choose(kept, columns)}
        back={() => (isMapping ? setIsMapping(false) : keep(null))}
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
      mapAgain={() => setIsMapping(true)}
      back={() => keep(null)}
      use={(filled) => touch({ type: 'fill from trace', filled })}
    />
  );
}
