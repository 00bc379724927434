import { type PackBlock, utc } from './pack-blocks';
import type { PackFacts, PackPurge, PackUnit } from './pack-facts';
import { retentionOf } from './retention';

const none = 'not on record';

/** Identity of each unit as 49 CFR 396.3(b) asks for it, and how long its record is kept. */
export function unitBlocks(facts: PackFacts): PackBlock[] {
  return [
    { is: 'heading', text: 'Units' },
    {
      is: 'text',
      text: '49 CFR 396.3 binds motor carriers and intermodal equipment providers for commercial motor vehicles that they control for 30 days or more. By 49 CFR 390.5 that is, in interstate commerce, a rating or weight of 10,001 lb (4,536 kg) or more, or more than 8 passengers for pay or 15 otherwise, or placarded goods. Most light pickups and SUVs are none. Read the text in force.',
    },
    {
      is: 'table',
      name: 'Identity and retention, after 49 CFR 396.3(b) and (c)',
      columns: [
        { title: 'Unit', weight: 7 },
        { title: 'Shed', weight: 10 },
        { title: 'Make', weight: 10 },
        { title: 'Serial number (VIN)', weight: 15 },
        { title: 'Year', weight: 6, isNumber: true },
        { title: 'Tire size', weight: 9 },
        { title: 'On record from', weight: 9 },
        { title: 'Left', weight: 9 },
        { title: 'Whether 396.3 binds', weight: 18 },
        { title: 'Records kept', weight: 20 },
      ],
      rows: facts.units.map((unit) => {
        const { binds, keep } = retentionOf(unit, newestDayOf(unit, facts));
        return [
          unit.id,
          unit.shed,
          unit.make ?? none,
          unit.vin ?? none,
          unit.modelYear?.toString() ?? none,
          unit.tireSize ?? none,
          unit.trackedFrom,
          unit.leftFleetOn ?? '',
          binds,
          keep,
        ];
      }),
    },
    ...facts.purges.map((purge): PackBlock => ({ is: 'text', text: purgeWords(purge) })),
  ];
}

/** What is no longer there, so that its absence is not taken for a gap. */
const purgeWords = (purge: PackPurge): string =>
  `Unit ${purge.unitId}: purged by policy on ${utc(purge.purgedAt)}, ledger entry ${purge.entry}: ${purge.readings} readings, ${purge.verdicts} verdicts, ${purge.spells} spells, ${purge.orders} work orders and what ${purge.payloads} ledger entries said. Their digests stand.`;

function newestDayOf({ id }: PackUnit, { readings, orders, spells }: PackFacts): string | null {
  const own = <Row extends { readonly unitId: string }>(rows: readonly Row[]) =>
    rows.filter(({ unitId }) => unitId === id);
  const instants = [
    ...own(readings).map(({ receivedAt }) => receivedAt),
    ...own(orders).map(({ raisedAt, finishedAt }) => finishedAt ?? raisedAt),
    ...own(spells).map(({ openedAt, releasedAt }) => releasedAt ?? openedAt),
  ].map(Number);
  if (instants.length === 0) return null;
  return new Date(Math.max(...instants)).toISOString().slice(0, 10);
}
