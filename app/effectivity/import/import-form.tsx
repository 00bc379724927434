'use client';

import { useActionState } from 'react';
import { Button, DownloadButton } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { Field } from '@/app/_ui/field';
import { StatusLine } from '@/app/_ui/status-line';
import { refusedRows } from '@/lib/outflow/refused-rows';
import { importAction } from './actions';
import { ColumnsOfFile } from './columns-of-file';

/** Try the file first; import what was tried. */
export function ImportForm() {
  const [state, action, isPending] = useActionState(importAction, {
    problems: [],
    said: null,
    tried: null,
    isReady: false,
  });
  const { problems, said, tried, isReady } = state;
  return (
    <form action={action} className="stack" noValidate>
      <Field
        id="file"
        name="file"
        type="file"
        accept=".csv,text/csv"
        label="File"
        hint="CSV in UTF-8, at most 500 kB"
      />
      {tried && (
        <ColumnsOfFile
          key={`${tried.name} ${tried.held.join()}`}
          header={tried.header}
          held={tried.held}
          isRemembered={tried.isRemembered}
        />
      )}
      <div className="row">
        <Button type="submit" name="step" value="try" disabled={isPending}>
          Try it, keep nothing
        </Button>
        {tried && (
          <>
            <input type="hidden" name="tried" value={tried.base64} />
            <input type="hidden" name="name" value={tried.name} />
            <input type="hidden" name="tried-columns" value={JSON.stringify(tried.held)} />
          </>
        )}
        {tried && isReady && (
          <Button type="submit" name="step" value="import" main disabled={isPending}>
            Import {tried.name}
          </Button>
        )}
      </div>
      <StatusLine>{said}</StatusLine>
      {problems.length > 0 && (
        <div role="alert" className="stack">
          <p>
            <b>Nothing was kept. {problems.length} to mend:</b>
          </p>
          <div>
            <DownloadButton
              href={`data:text/csv;charset=utf-8,${encodeURIComponent(refusedRows(problems))}`}
              download="refused-rows.csv"
            >
              Refused rows, CSV
            </DownloadButton>
          </div>
          <DataTable label="Refused rows">
            <thead>
              <tr>
                <th scope="col" className="number">
                  Line
                </th>
                <th scope="col">Column</th>
                <th scope="col">Value</th>
                <th scope="col">What is wrong</th>
                <th scope="col">Mend</th>
              </tr>
            </thead>
            <tbody>
              {[...problems.entries()].map(([index, { line, field, value, message, mend }]) => (
                <tr key={index}>
                  <td className="number">{line ?? '–'}</td>
                  <td>{field}</td>
                  <td>{value}</td>
                  <td>{message}</td>
                  <td>{mend}</td>
                </tr>
              ))}
            </tbody>
          </DataTable>
        </div>
      )}
    </form>
  );
}
