'use client';

import { useRouter } from 'next/navigation';
import { type FormEvent, useState } from 'react';
import { Button } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { Field, SelectField } from '@/app/_ui/field';
import { StatusLine } from '@/app/_ui/status-line';
import { type ImportKind, importKinds } from '@/lib/intake/import/import-fields';
import type { Problem } from '@/lib/result';
import { beginAction } from './actions';

const pieceBytes = 1 << 20;

const lost: Problem = {
  field: 'file',
  message: 'The connection was lost.',
  mend: 'Send the file again; nothing of it is on record.',
};

/** Sends a file in pieces, so that it may be large, and shows how far it is. */
export function SendFile() {
  const router = useRouter();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [sent, setSent] = useState<number | null>(null);
  const send = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const file = data.get('file');
    if (!(file instanceof File) || file.name === '') {
      setProblems([{ field: 'file', message: 'No file is chosen.', mend: 'Choose one.' }]);
      return;
    }
    setProblems([]);
    setSent(0);
    try {
      const kind = data.get('kind') as ImportKind;
      const begun = await beginAction({ kind, fileName: file.name, byteCount: file.size });
      if (!('id' in begun)) return setProblems(begun.problems);
      for (let from = 0; from < file.size; from += pieceBytes) {
        const answer = await fetch(`/imports/${begun.id}/pieces/${from / pieceBytes}`, {
          method: 'PUT',
          body: file.slice(from, from + pieceBytes),
        });
        if (!answer.ok) return setProblems([lost]);
        setSent(Math.min(100, Math.round((100 * (from + pieceBytes)) / file.size)));
      }
      router.push(`/imports/${begun.id}`);
    } catch {
      setProblems([lost]);
    } finally {
      setSent(null);
    }
  };
  return (
    <form onSubmit={send} noValidate>
      <fieldset disabled={sent !== null} className="stack">
        <ErrorSummary problems={problems} />
        <SelectField id="kind" name="kind" label="What it holds" defaultValue="readings">
          {importKinds.map((kind) => (
            <option key={kind}>{kind}</option>
          ))}
        </SelectField>
        <Field
          id="file"
          name="file"
          type="file"
          accept=".csv,text/csv,text/plain"
          label="CSV file"
          hint="50 MB at most. Its first line names the columns. Nothing goes on record before you have seen what would become of each row."
        />
        <div>
          <Button type="submit" main>
            Send
          </Button>
        </div>
        <StatusLine>{sent === null ? null : `${sent}% sent`}</StatusLine>
      </fieldset>
    </form>
  );
}
