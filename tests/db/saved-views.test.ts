import { beforeAll, expect, it } from 'vitest';
import { savedViews } from '@/db/reads/saved-views';
import { person } from '@/db/schema';
import { removeView } from '@/db/writes/remove-view';
import { saveView } from '@/db/writes/save-view';
import { AccessDenied, type Actor, type Role } from '@/lib/access';
import { onEachDatabase } from '../support/databases';

const actor = (personId: string, role: Role = 'fleet manager'): Actor => ({
  personId,
  name: personId,
  role,
  shedIds: [],
  roleSince: new Date(0),
});
const ines = actor('ines');
const rhea = actor('rhea', 'safety officer');
const now = new Date('2026-06-30T12:00:00Z');

onEachDatabase('saved views', (db) => {
  beforeAll(() =>
    db()
      .insert(person)
      .values(
        [ines, rhea].map(({ personId, role }) => ({
          id: personId,
          name: personId,
          email: `${personId}@tarn.example`,
          badge: personId,
          role,
        })),
      ),
  );

  const names = async (of: Actor) =>
    (await savedViews(db(), of)).map(({ name, address }) => [name, address]);

  it('are kept by name, replaced by the same name, and seen by their own person only', async () => {
    const save = (who: Actor, name: string, address: string) =>
      saveView(db(), { actor: who, name, address, now });
    await save(ines, 'Ridge, not placed', 'shed=ridge');
    await save(ines, 'All', 'mark=all');
    await save(rhea, 'All', 'mark=all&sort=unit');
    await save(ines, 'All', 'mark=all&sort=-read');
    expect(await names(ines)).toEqual([
      ['All', 'mark=all&sort=-read'],
      ['Ridge, not placed', 'shed=ridge'],
    ]);
    expect(await names(rhea)).toEqual([['All', 'mark=all&sort=unit']]);
  });

  it('are removed by their own person only', async () => {
    const [first] = await savedViews(db(), ines);
    await removeView(db(), { actor: rhea, viewId: first?.id ?? '', now });
    expect(await names(ines)).toHaveLength(2);
    await removeView(db(), { actor: ines, viewId: first?.id ?? '', now });
    expect(await names(ines)).toEqual([['Ridge, not placed', 'shed=ridge']]);
  });

  it('are refused to who may not see units', async () => {
    const kit = actor('kit', 'admin');
    await expect(saveView(db(), { actor: kit, name: 'All', address: '', now })).rejects.toThrow(
      AccessDenied,
    );
  });
});
