import type { Metadata } from 'next';
import { forbidden, notFound } from 'next/navigation';
import { Suspense } from 'react';
import { requireSignIn } from '@/app/_session';
import { Shell } from '@/app/_shell';
import { LinkButton } from '@/app/_ui/button';
import { Facts } from '@/app/_ui/facts';
import { moment } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { MarkTag } from '@/app/_ui/mark';
import { Page } from '@/app/_ui/page';
import { PrintButton } from '@/app/_ui/print-button';
import { StatusLine } from '@/app/_ui/status-line';
import { database } from '@/db/handle';
import { unitOnSheet } from '@/db/reads/unit-on-sheet';
import { AccessDenied, may } from '@/lib/access';
import { BeltPanel } from './belt-panel';
import { BulletinsPanel } from './bulletins-panel';
import { CausePanel } from './cause-panel';
import { HistoryPanel } from './history-panel';
import { PanelGuard } from './panel-guard';
import { PlanPanel } from './plan-panel';
import { ReadingsPanels } from './readings-panels';
import { sheetSentence } from './sentence';
import { unitFacts } from './unit-facts';
import styles from './unit-sheet.module.css';
import { VinPanel } from './vin-panel';
import { WhyPanel } from './why-panel';

export async function generateMetadata({ params }: PageProps<'/units/[unit]'>): Promise<Metadata> {
  return { title: `Unit ${decodeURIComponent((await params).unit)}` };
}

export default async function UnitSheetPage({ params }: PageProps<'/units/[unit]'>) {
  const unitId = decodeURIComponent((await params).unit).toUpperCase();
  const person = await requireSignIn(`/units/${encodeURIComponent(unitId)}`);
  const { db } = await database();
  const sheet = await unitOnSheet(db, person, unitId).catch((error: unknown) => {
    if (error instanceof AccessDenied) forbidden();
    throw error;
  });
  if (!sheet) notFound();
  const { unit, shed, verdict, limits, isBeingJudged } = sheet;
  const assessment = verdict?.assessment ?? null;
  const units = { pressure: person.pressureUnit, distance: person.distanceUnit };
  const said = assessment && sheetSentence(assessment, limits.idleCautionSle, units);
  const asOf = verdict && moment(verdict.judgedAt, shed.timeZone);
  const mayDo = (action: Parameters<typeof may>[1]) => may(person, action, shed.id);
  return (
    <Shell person={person} asOf={asOf}>
      <Page
        above={<Link href="/yard">Yard</Link>}
        title={
          <span className={styles.title}>
            Unit {unit.id}{' '}
            {assessment?.mark ? (
              <MarkTag mark={assessment.mark} size={22} />
            ) : (
              <span className="mute">{assessment?.standing ?? 'never judged'}</span>
            )}
          </span>
        }
        lede={
          <>
            <p className={styles.sentence}>
              <strong>{said ? said.finding : 'Never read. Read it.'}</strong>{' '}
              {said && `${said.use} ${said.action}`}
            </p>
            {isBeingJudged && (
              <StatusLine>
                Being judged: an import or a bulletin has changed the record, and neither mark nor
                dates know of it yet.
              </StatusLine>
            )}
            <Facts shape="line" facts={unitFacts(sheet, units)} />
            <p className="mute small">
              Service information in force, local law and a licensed technician prevail over this
              sheet.
            </p>
          </>
        }
        actions={
          <>
            {mayDo('plan') && (
              <LinkButton main href={`/bay-plan?unit=${unit.id}`}>
                Place in the bay plan
              </LinkButton>
            )}
            {mayDo('record a reading') && (
              <LinkButton main={!mayDo('plan')} href={`/bay?unit=${unit.id}`}>
                Read again
              </LinkButton>
            )}
            {mayDo('stand a unit down') && (
              <LinkButton href={`/stand-down?unit=${unit.id}`}>Stand down…</LinkButton>
            )}
            {mayDo("make an auditor's pack") && (
              <LinkButton href={`/auditors-pack?unit=${unit.id}`}>Auditor’s pack</LinkButton>
            )}
            <PrintButton>Print sheet</PrintButton>
          </>
        }
      >
        <div className="beside">
          <div className="stack">
            <PanelGuard title="Readings">
              <Suspense fallback={<div className={styles.waiting} />}>
                <ReadingsPanels person={person} sheet={sheet} units={units} />
              </Suspense>
            </PanelGuard>
          </div>
          <div className="stack">
            {assessment && (
              <>
                <WhyPanel assessment={assessment} units={units} />
                <CausePanel diagnosis={assessment.diagnosis} />
                <BeltPanel assessment={assessment} distanceUnit={units.distance} />
              </>
            )}
            <PanelGuard title="Bulletins">
              <Suspense>
                <BulletinsPanel unitId={unit.id} timeZone={shed.timeZone} />
              </Suspense>
            </PanelGuard>
            <VinPanel
              unit={unit}
              {...(mayDo('record a unit fact') && {
                factsAt: `/units/${encodeURIComponent(unit.id)}/facts`,
              })}
            />
            <PanelGuard title="Plan">
              <Suspense>
                <PlanPanel unitId={unit.id} mark={assessment?.mark ?? null} />
              </Suspense>
            </PanelGuard>
            <PanelGuard title="History">
              <Suspense>
                <HistoryPanel
                  unitId={unit.id}
                  timeZone={shed.timeZone}
                  maySeeLedger={mayDo('see the ledger')}
                />
              </Suspense>
            </PanelGuard>
          </div>
        </div>
      </Page>
    </Shell>
  );
}
