import { payloadWords } from '@/lib/ledger/payload-words';
import { fromKilometres } from '@/lib/measure';
import { type PackBlock, type PackColumn, type PackReader, utc } from './pack-blocks';
import type { PackEntry, PackFacts, PackOrder, PackSpell } from './pack-facts';

const lines = (...parts: readonly (string | null)[]): string => parts.filter(Boolean).join('\n');
const unitColumn: PackColumn = { title: 'Unit', weight: 7 };

/** Spells and their signatures, work, bulletins, and the ledger that holds them all. */
export function recordTables(facts: PackFacts, reader: PackReader): PackBlock[] {
  return [
    { is: 'heading', text: 'Spells out of service, and their signatures' },
    spellsTable(facts),
    { is: 'heading', text: 'Work' },
    workTable(facts, reader),
    { is: 'heading', text: 'Bulletins' },
    {
      is: 'table',
      name: 'Bulletins',
      columns: [
        unitColumn,
        { title: 'Bulletin, issue', weight: 12 },
        { title: 'Title', weight: 22 },
        { title: 'Kind', weight: 12 },
        { title: 'Applies', weight: 24 },
        { title: 'Status', weight: 22 },
      ],
      rows: facts.bulletins.map((one) => [
        one.unitId,
        `${one.number}, ${one.issue}`,
        one.title,
        one.kind,
        lines(one.applicability, one.why),
        lines(one.status, one.statusReason, one.statusBy, utc(one.statusAt)),
      ]),
    },
    { is: 'heading', text: 'Ledger entries' },
    {
      is: 'table',
      name: 'Ledger entries',
      columns: [
        { title: 'Entry', weight: 5, isNumber: true },
        { title: 'When', weight: 12 },
        { title: 'Who', weight: 10 },
        { title: 'Kind', weight: 11 },
        unitColumn,
        { title: 'What', weight: 17 },
        { title: 'SHA-256: payload, entry before, entry', weight: 32, isFixed: true },
      ],
      rows: facts.entries.map((one) => [
        String(one.entry),
        lines(utc(one.at), one.deviceAt && `device ${utc(one.deviceAt)}`),
        one.who ?? 'the program',
        one.kind,
        one.unitId ?? '',
        one.canonical === null ? goneWords(one, facts) : payloadWords(one.canonical),
        lines(one.payloadDigest, one.previousHash, one.hash),
      ]),
    },
  ];
}

/** The first purge of the unit behind the entry took what it said. */
function goneWords({ entry, unitId }: PackEntry, { purges }: PackFacts): string {
  const purge = purges.find((one) => one.unitId === unitId && one.entry > entry);
  return purge
    ? `Purged by policy on ${utc(purge.purgedAt)}, ledger entry ${purge.entry}; its digest stands.`
    : payloadWords(null);
}

function spellsTable({ spells }: PackFacts): PackBlock {
  return {
    is: 'table',
    name: 'Spells',
    columns: [
      unitColumn,
      { title: 'Out, by whom', weight: 15 },
      { title: 'Why', weight: 24 },
      { title: 'Stop tag hung', weight: 13 },
      { title: '1 Repair certified', weight: 20 },
      { title: 'Proof reading', weight: 13 },
      { title: '2 Released to service', weight: 20 },
    ],
    rows: spells.map((spell) => [
      spell.unitId,
      lines(utc(spell.openedAt), spell.openedBy),
      whyOut(spell),
      spell.tagHungAt ? lines(utc(spell.tagHungAt), spell.tagHungBy) : 'not confirmed',
      spell.certifiedAt
        ? lines(spell.certifiedBy, utc(spell.certifiedAt), spell.certificate, spell.certifiedNote)
        : 'open',
      spell.proofEntry === null ? 'open' : lines(`reading ${spell.proofEntry}`, spell.proofReadBy),
      spell.releasedAt
        ? lines(
            spell.releasedBy,
            utc(spell.releasedAt),
            spell.releasedNote,
            spell.isSmallShop ? 'by the small-shop rule' : null,
          )
        : 'open',
    ]),
  };
}

const whyOut = ({ cause, why, note, readingEntry, bulletin }: PackSpell): string =>
  lines(
    cause,
    why,
    note,
    readingEntry === null ? null : `reading ${readingEntry}`,
    bulletin && `bulletin ${bulletin}`,
  );

const workDone = ({ tasks, fitted }: PackOrder): string =>
  lines(
    ...tasks.map(({ title, state, struckWhy }) =>
      struckWhy ? `${title}: ${state}, ${struckWhy}` : `${title}: ${state}`,
    ),
    ...fitted.map(({ part, revision }) => `fitted: ${part}${revision ? `, ${revision}` : ''}`),
  );

function workTable({ orders }: PackFacts, { distance }: PackReader): PackBlock {
  return {
    is: 'table',
    name: 'Work orders',
    columns: [
      { title: 'Order', weight: 6, isNumber: true },
      unitColumn,
      { title: 'Why', weight: 24 },
      { title: 'State', weight: 8 },
      { title: 'Raised', weight: 14 },
      { title: 'Finished', weight: 14 },
      { title: `Odometer, ${distance}`, weight: 9, isNumber: true },
      { title: 'Cause found', weight: 10 },
      { title: 'Tasks and parts', weight: 28 },
    ],
    rows: orders.map((order) => [
      String(order.number),
      order.unitId,
      order.why,
      order.state,
      lines(order.raisedBy ?? 'the program', utc(order.raisedAt)),
      lines(order.finishedBy, utc(order.finishedAt)),
      order.odometer === null
        ? '–'
        : Math.round(fromKilometres(order.odometer, distance)).toString(),
      order.foundCause ?? '',
      workDone(order),
    ]),
  };
}
