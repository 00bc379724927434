'use client';

import { Banner } from '@/app/_ui/banner';
import { Button } from '@/app/_ui/button';
import { Page } from '@/app/_ui/page';

/** Never shown as empty: not knowing which units are out is no reason to drive one. */
export default function StandDownError({ reset }: { readonly reset: () => void }) {
  return (
    <Page title="Stand-down">
      <div className="stack">
        <Banner kind="alarm">
          Cannot tell which units are out. Treat the last list as true: nobody drives a unit that
          was on it.
        </Banner>
        <div>
          <Button onClick={reset}>Try again</Button>
        </div>
      </div>
    </Page>
  );
}
