import type { shed } from '@/db/schema';
import type { Role } from '@/lib/access';

/** The Tarn Water District: an invented place, invented people. */
export const sheds = [
  {
    id: 'quay',
    name: 'Quay shed',
    elevationM: 12,
    timeZone: 'America/Los_Angeles',
    pressureUnit: 'inHg',
    distanceUnit: 'mi',
    bayHoursPerWeek: 16,
  },
  {
    id: 'river',
    name: 'River shed',
    elevationM: 210,
    timeZone: 'America/Los_Angeles',
    pressureUnit: 'psi',
    distanceUnit: 'mi',
    bayHoursPerWeek: 24,
  },
  {
    id: 'north',
    name: 'North shed',
    elevationM: 760,
    timeZone: 'America/Los_Angeles',
    pressureUnit: 'psi',
    distanceUnit: 'mi',
    bayHoursPerWeek: 16,
  },
  {
    id: 'ridge',
    name: 'Ridge shed',
    elevationM: 2120,
    timeZone: 'America/Denver',
    pressureUnit: 'psi',
    distanceUnit: 'mi',
    bayHoursPerWeek: 12,
  },
] as const satisfies readonly (typeof shed.$inferInsert)[];

export interface InventedPerson {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly badge: string;
  readonly role: Role;
  readonly shedIds: readonly string[];
}

export const people: readonly InventedPerson[] = [
  { id: 'ines', name: 'Ines Kood', badge: 'D-01', role: 'fleet manager', shedIds: [] },
  { id: 'tal', name: 'Tal Venn', badge: 'T-12', role: 'technician', shedIds: ['river'] },
  { id: 'ode', name: 'Ode Marrit', badge: 'T-08', role: 'technician', shedIds: ['river', 'ridge'] },
  { id: 'bela', name: 'Bela Unwin', badge: 'T-03', role: 'technician', shedIds: ['quay'] },
  {
    id: 'jory',
    name: 'Jory Thane',
    badge: 'T-05',
    role: 'technician',
    shedIds: ['north', 'ridge'],
  },
  { id: 'rhea', name: 'Rhea Solt', badge: 'S-01', role: 'safety officer', shedIds: [] },
  { id: 'anse', name: 'Anse Corrow', badge: 'S-02', role: 'safety officer', shedIds: [] },
  { id: 'moro', name: 'Moro Lind', badge: 'A-01', role: 'auditor', shedIds: [] },
  { id: 'kit', name: 'Kit Rowan', badge: 'K-01', role: 'admin', shedIds: [] },
].map((one) => ({ ...one, email: `${one.id}@tarn.example` }) as InventedPerson);

export const demoPassword = 'demo-only-not-secret';
