import { LinkButton } from '@/app/_ui/button';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';

export default function NotFound() {
  return (
    <Page title="Nothing at this address">
      <Panel>
        <p>
          No unit, order or page has this address, or it lies in a shed that you cannot see. Check
          the unit number, or find the unit in the yard.
        </p>
        <p className="row">
          <LinkButton href="/yard">Open the yard</LinkButton>
        </p>
      </Panel>
    </Page>
  );
}
