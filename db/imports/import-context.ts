import { eq } from 'drizzle-orm';
import { instantOfLocalTime } from '@/lib/calendar';
import type { ImportContext, ImportPlace } from '@/lib/intake/import/imported-row';
import type { Db } from '../client';
import { gauge, jobTemplate, person, shed, unit } from '../schema';

const noonMs = 12 * 3_600_000;
const dayMs = 24 * 3_600_000;

/** What rows of a file can refer to, read once for the whole file. */
export async function importContext(db: Db, now: Date): Promise<ImportContext> {
  const sheds = await db.select().from(shed);
  const places = new Map<string, ImportPlace>(
    sheds.map(({ id, elevationM, timeZone }) => [
      id,
      { shedId: id, elevation: elevationM, timeZone },
    ]),
  );
  const onRecord = await db
    .select({ id: unit.id, shedId: unit.shedId, asksDigit: unit.isCheckDigitRequired })
    .from(unit);
  const units = new Map(onRecord.map(({ id, shedId }) => [id, places.get(shedId)]));
  const withoutDigit = new Set(onRecord.flatMap(({ id, asksDigit }) => (asksDigit ? [] : [id])));
  const shedIds = byName(sheds.flatMap(({ id, name }) => [[id, id] as const, [name, id] as const]));
  const people = await db.select().from(person).where(eq(person.isActive, true));
  const personIds = byName(
    people.flatMap(({ id, name, email, badge }) => [
      [badge, id] as const,
      [email, id] as const,
      [name, id] as const,
    ]),
  );
  const gauges = await db.select().from(gauge);
  const gaugeIds = byName(
    gauges.flatMap(({ id, label }) => [[id, id] as const, [label, id] as const]),
  );
  const templates = new Map(
    (await db.select().from(jobTemplate))
      .filter(({ kind }) => kind !== 'bulletin')
      .map(({ kind, title, hours }) => [kind as string, { title, hours }]),
  );
  const noons = new Map<string, Map<number, Date>>();
  return {
    now,
    unitOf: (id) => units.get(id),
    asksCheckDigit: (id) => !withoutDigit.has(id),
    shedOf: (name) => shedIds.get(name.toLowerCase()),
    personOf: (name) => personIds.get(name.toLowerCase()),
    gaugeOf: (label) => gaugeIds.get(label.toLowerCase()),
    templateOf: (task) => templates.get(task),
    noonOf(day, timeZone) {
      let inZone = noons.get(timeZone);
      if (!inZone) {
        inZone = new Map();
        noons.set(timeZone, inZone);
      }
      const known = inZone.get(day);
      if (known) return known;
      const local = day * dayMs + noonMs;
      const noon = instantOfLocalTime(local, timeZone);
      // No zone changes its clocks at noon; one that did would still have read it on that day.
      const instant = noon instanceof Date ? noon : new Date(local);
      inZone.set(day, instant);
      return instant;
    },
  };
}

/** A name that two of them bear means neither. */
function byName(pairs: readonly (readonly [string, string])[]): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const twice = new Set<string>();
  for (const [name, id] of pairs) {
    const key = name.toLowerCase();
    const before = found.get(key);
    if (before !== undefined && before !== id) twice.add(key);
    found.set(key, id);
  }
  for (const key of twice) found.delete(key);
  return found;
}
