import { LinkButton } from '@/app/_ui/button';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';

export default function Forbidden() {
  return (
    <Page title="This page is not open to you">
      <Panel>
        <p>
          It belongs to a shed that you do not work in, or to another role. If you need it for your
          work, ask the desk.
        </p>
        <p className="row">
          <LinkButton href="/">Back to your first page</LinkButton>
        </p>
      </Panel>
    </Page>
  );
}
