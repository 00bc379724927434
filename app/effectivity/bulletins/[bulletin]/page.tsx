import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { Suspense } from 'react';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { Facts } from '@/app/_ui/facts';
import { Link } from '@/app/_ui/link';
import { Page } from '@/app/_ui/page';
import { Panel } from '@/app/_ui/panel';
import { PrintButton } from '@/app/_ui/print-button';
import { StatusLine } from '@/app/_ui/status-line';
import { database } from '@/db/handle';
import { bulletinOnRecord } from '@/db/reads/bulletin-on-record';
import { may } from '@/lib/access';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { requiredPartsInWords } from '@/lib/bulletins/required-parts';
import { ruleWords } from '@/lib/bulletins/rule-words';
import { localDay } from '@/lib/calendar';
import { ApprovalPanel } from './approval-panel';
import { NoticePanel } from './notice-panel';
import { WorthPanel } from './worth-panel';

export const metadata: Metadata = { title: 'Bulletin' };

const issueLink = ({ id, number, issue }: { id: string; number: string; issue: string }) => (
  <Link href={`/effectivity/bulletins/${id}`}>
    {number} issue {issue}
  </Link>
);

export default async function BulletinPage({
  params,
}: PageProps<'/effectivity/bulletins/[bulletin]'>) {
  const id = z.uuid().safeParse((await params).bulletin).data;
  const person = await requireSignIn(id ? `/effectivity/bulletins/${id}` : '/effectivity');
  const { db } = await database();
  const found = id ? await bulletinOnRecord(db, person, id) : null;
  if (!found) notFound();
  const {
    bulletin,
    enteredByName,
    approvedByName,
    earlier,
    later,
    attachment,
    counts,
    beingJudged,
  } = found;
  const rule = parseRule(bulletin.rule);
  const now = new Date();
  const units = { pressure: person.pressureUnit, distance: person.distanceUnit };
  const words = rule.ok ? ruleWords(rule.value, localDay(now, 'UTC'), units) : [];
  return (
    <Shell person={person}>
      <Page
        above={<Link href="/effectivity">Effectivity</Link>}
        title={`${bulletin.number} issue ${bulletin.issue}: ${bulletin.title}`}
        lede={bulletin.conditions}
        actions={<PrintButton>Print</PrintButton>}
      >
        <div className="stack">
          <div className="beside">
            <div className="stack">
              {bulletin.kind === 'do not drive until done' && (
                <ApprovalPanel
                  bulletinId={bulletin.id}
                  person={person}
                  approved={bulletin.approvedAt && { by: approvedByName, at: bulletin.approvedAt }}
                  enteredBy={bulletin.enteredBy}
                  isReplaced={later !== null}
                />
              )}
              <Panel title="Units">
                <Facts
                  facts={counts.map(({ status, units }) => ({
                    term: status,
                    value: (
                      <Link
                        href={`/effectivity?bulletin=${bulletin.id}&status=${encodeURIComponent(status)}#chosen`}
                      >
                        {units}
                      </Link>
                    ),
                  }))}
                />
                {counts.length === 0 && <p>It covers no unit.</p>}
                {beingJudged > 0 && (
                  <StatusLine>
                    {beingJudged} of them are being judged: their marks do not know of the newest
                    import or bulletin yet.
                  </StatusLine>
                )}
              </Panel>
              <NoticePanel
                bulletinId={bulletin.id}
                attached={attachment}
                mayAttach={may(person, 'edit bulletins')}
              />
            </div>
            <div className="stack">
              <Panel title="The bulletin">
                <Facts
                  facts={[
                    { term: 'Kind', value: bulletin.kind },
                    { term: 'Issued', value: bulletin.issuedOn },
                    ...(bulletin.dueOn ? [{ term: 'Due', value: bulletin.dueOn }] : []),
                    { term: 'To do', value: bulletin.actions },
                    { term: 'Bay hours', value: bulletin.hours.toFixed(1) },
                    {
                      term: 'Parts',
                      value: requiredPartsInWords(bulletin.requiredParts) || 'none asked for',
                    },
                    ...(earlier ? [{ term: 'Supersedes', value: issueLink(earlier) }] : []),
                    ...(earlier
                      ? [
                          {
                            term: 'Done before',
                            value: bulletin.doesDoneCarry ? 'counts' : 'does not count',
                          },
                        ]
                      : []),
                    ...(later ? [{ term: 'Superseded by', value: issueLink(later) }] : []),
                    { term: 'Source', value: bulletin.source },
                    {
                      term: 'Entered',
                      value: `${bulletin.enteredAt.toISOString().slice(0, 10)} ${enteredByName ?? ''}`,
                    },
                  ]}
                />
                <p className="mute small">
                  The notice and the service information in force prevail over these words.
                </p>
              </Panel>
              <Panel
                title={
                  words.length === 1
                    ? 'It covers the units of this range'
                    : 'It covers the units of any of these ranges'
                }
              >
                <ul>
                  {words.map((range) => (
                    <li key={range}>{range}</li>
                  ))}
                </ul>
              </Panel>
            </div>
          </div>
          <Suspense fallback={<p>Counting failures and drift.</p>}>
            <WorthPanel bulletinId={bulletin.id} person={person} now={now} />
          </Suspense>
        </div>
      </Page>
    </Shell>
  );
}
