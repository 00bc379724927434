'use client';

import { Button } from '@/app/_ui/button';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';

interface PageErrorProps {
  readonly error: Error & { readonly digest?: string };
  readonly reset: () => void;
}

export default function PageError({ error, reset }: PageErrorProps) {
  return (
    <Page title="This page could not be shown">
      <Panel>
        <div role="alert">
          <p>
            Something failed on our side. Nothing that you put on record is lost. Until this page
            comes back, treat the last known state as true: a unit out of service stays out of
            service.
          </p>
          {error.digest && (
            <p className="mute small">Say this number to the desk: {error.digest}</p>
          )}
        </div>
        <p className="row">
          <Button main onClick={reset}>
            Try again
          </Button>
        </p>
      </Panel>
    </Page>
  );
}
