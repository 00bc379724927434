'use client';

import { useRouter } from 'next/navigation';
import { type FormEvent, useState, useTransition } from 'react';
import { Button, DownloadButton } from '@/app/_ui/button';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { Field } from '@/app/_ui/field';
import { Panel } from '@/app/_ui/panel';
import type { Problem } from '@/lib/result';

interface NoticePanelProps {
  readonly bulletinId: string;
  readonly attached: { readonly name: string; readonly digest: string } | null;
  readonly mayAttach: boolean;
}

interface Refusal {
  readonly title?: string;
  readonly problems?: readonly Problem[];
}

const problem = (message: string, mend: string): Problem => ({
  field: 'attachment',
  message,
  mend,
});

/** The notice itself: kept with its digest, given out as a file. */
export function NoticePanel({ bulletinId, attached, mayAttach }: NoticePanelProps) {
  const router = useRouter();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [isPending, startTransition] = useTransition();
  const address = `/effectivity/bulletins/${bulletinId}/attachment`;
  const send = (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    const file = new FormData(event.currentTarget).get('attachment');
    if (!(file instanceof File) || file.name === '') {
      setProblems([problem('No file is chosen.', 'Choose the notice as PDF.')]);
      return;
    }
    startTransition(async () => setProblems(await upload(address, file, router.refresh)));
  };
  return (
    <Panel title="The notice">
      {attached ? (
        <>
          <p>
            <DownloadButton href={address}>Load {attached.name}</DownloadButton>
          </p>
          <p className="mute small">SHA-256 {attached.digest.slice(0, 16)}…</p>
        </>
      ) : (
        <p>No notice is attached.</p>
      )}
      {mayAttach && (
        <form onSubmit={send} className="stack no-print" noValidate>
          <ErrorSummary problems={problems} />
          <Field
            id="attachment"
            name="attachment"
            type="file"
            accept="application/pdf,.pdf"
            label={attached ? 'Put another in its place' : 'Attach the notice'}
            hint="PDF, at most 5 MB"
          />
          <div>
            <Button type="submit" disabled={isPending}>
              Attach
            </Button>
          </div>
        </form>
      )}
    </Panel>
  );
}

async function upload(
  address: string,
  file: File,
  refresh: () => void,
): Promise<readonly Problem[]> {
  try {
    const answer = await fetch(address, {
      method: 'POST',
      headers: { 'x-file-name': encodeURIComponent(file.name), 'content-type': 'application/pdf' },
      body: file,
    });
    if (answer.ok) {
      refresh();
      return [];
    }
    const { title, problems = [] }: Refusal = await answer.json();
    return problems.length > 0 ? problems : [problem(title ?? 'It was refused.', 'Try again.')];
  } catch {
    return [problem('The file did not arrive.', 'Look to the connection and try again.')];
  }
}
