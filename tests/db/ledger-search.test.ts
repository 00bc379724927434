import { expect, it } from 'vitest';
import { countLedgerEntries, type LedgerQuery, ledgerEntries } from '@/db/reads/ledger-entries';
import { hangTag } from '@/db/writes/hang-tag';
import { standDown } from '@/db/writes/stand-down';
import { onEachDatabase } from '../support/databases';
import { makeFixture } from '../support/tarn-fixture';

const at = (day: number) => new Date(Date.UTC(2026, 0, day, 15));

onEachDatabase('the search of the ledger', (db) => {
  it('finds by unit, person, kind and date, newest first, alone and together', async () => {
    const fixture = await makeFixture(db(), 2);
    const [one, two] = fixture.unitIds as [string, string];
    const officer = await fixture.person('safety officer');
    const technician = await fixture.person('technician');
    const out = (unitId: string, day: number) =>
      standDown(db(), { actor: officer, unitId, cause: 'other', note: 'why', now: at(day) });
    await out(one, 5);
    await hangTag(db(), { actor: technician, unitId: one, now: at(6) });
    await out(two, 7);
    const found = async (query: LedgerQuery) => {
      const rows = await ledgerEntries(db(), officer, query, { limit: 50, offset: 0 });
      expect(await countLedgerEntries(db(), officer, query)).toBe(rows.length);
      expect(rows.map(({ entry }) => entry)).toEqual(
        rows.map(({ entry }) => entry).sort((a, b) => b - a),
      );
      return rows.map(({ kind, unitId }) => `${unitId} ${kind}`);
    };
    const opened = 'spell opened';
    const tag = 'stop tag hung';
    expect(await found({ unitId: one })).toEqual([
      `${one} ${tag}`,
      `${one} marks changed`,
      `${one} ${opened}`,
    ]);
    expect(await found({ personId: technician.personId })).toEqual([`${one} ${tag}`]);
    expect(await found({ personId: officer.personId, kind: opened })).toEqual([
      `${two} ${opened}`,
      `${one} ${opened}`,
    ]);
    expect(await found({ unitId: one, from: at(6), until: at(7) })).toEqual([`${one} ${tag}`]);
    expect(await found({ personId: officer.personId, kind: opened, from: at(6) })).toEqual([
      `${two} ${opened}`,
    ]);
    expect(await found({ unitId: two, personId: technician.personId })).toEqual([]);
  });
});
