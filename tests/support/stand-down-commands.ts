import fc from 'fast-check';
import type { Actor, Role } from '@/lib/access';
import { mayAcceptClock, mayCertify, mayRelease } from '@/lib/stand-down/next-steps';
import {
  type CertificateKind,
  certificateKinds,
  type ProofReading,
  type SpellFacts,
} from '@/lib/stand-down/spell-facts';

export const minute = 60_000;
export const start = Date.UTC(2026, 0, 5, 8);
const people: readonly { readonly id: string; readonly role: Role }[] = [
  { id: 'tech-1', role: 'technician' },
  { id: 'tech-2', role: 'technician' },
  { id: 'officer-1', role: 'safety officer' },
  { id: 'officer-2', role: 'safety officer' },
  { id: 'desk', role: 'fleet manager' },
];

export type Command =
  | { readonly do: 'begin' | 'finish' | 'raise' | 'wait' | 'open bulletin' | 'close bulletin' }
  | { readonly do: 'swap role'; readonly who: number; readonly role: Role }
  | { readonly do: 'certify'; readonly who: number; readonly kind: CertificateKind }
  | {
      readonly do: 'read';
      readonly who: number | null;
      readonly passes: boolean;
      readonly isWhole: boolean;
      readonly skew: number | null;
      readonly ageMinutes: number;
    }
  | { readonly do: 'amend'; readonly who: number; readonly pick: number; readonly passes: boolean }
  | { readonly do: 'accept clock'; readonly who: number; readonly pick: number }
  | { readonly do: 'release'; readonly who: number; readonly signedInMinutesAgo: number | null };

const who = fc.nat({ max: people.length - 1 });
const mostly = (...likely: number[]) =>
  fc.oneof({ arbitrary: fc.constantFrom(...likely), weight: 4 }, who);
export const command: fc.Arbitrary<Command> = fc.oneof(
  fc.record({
    do: fc.constantFrom(
      ...(['begin', 'finish', 'raise', 'wait', 'open bulletin', 'close bulletin'] as const),
    ),
  }),
  { arbitrary: fc.record({ do: fc.constant('finish' as const) }), weight: 4 },
  fc.record({
    do: fc.constant('swap role' as const),
    who,
    role: fc.constantFrom<Role>('technician', 'safety officer'),
  }),
  {
    arbitrary: fc.record({
      do: fc.constant('certify' as const),
      who: mostly(0, 1),
      kind: fc.constantFrom(...certificateKinds),
    }),
    weight: 6,
  },
  {
    arbitrary: fc.record({
      do: fc.constant('read' as const),
      who: fc.option(who, { freq: 9 }),
      passes: fc.integer({ min: 0, max: 9 }).map((roll) => roll > 0),
      isWhole: fc.integer({ min: 0, max: 9 }).map((roll) => roll > 0),
      skew: fc.constantFrom(null, 0, 0, 299, 301, -4000),
      ageMinutes: fc.constantFrom(0, 0, 0, 5, 600),
    }),
    weight: 8,
  },
  fc.record({
    do: fc.constant('amend' as const),
    who,
    pick: fc.nat({ max: 5 }),
    passes: fc.boolean(),
  }),
  fc.record({ do: fc.constant('accept clock' as const), who, pick: fc.nat({ max: 5 }) }),
  {
    arbitrary: fc.record({
      do: fc.constant('release' as const),
      who: mostly(2, 3),
      signedInMinutesAgo: fc.constantFrom(null, 0, 1, 4, 6),
    }),
    weight: 10,
  },
);

export interface World {
  facts: SpellFacts;
  now: number;
  actors: Actor[];
}

export const emptyFacts: SpellFacts = {
  shedId: 'river',
  openedAt: new Date(start),
  releasedAt: null,
  orders: [],
  certificate: null,
  readings: [],
  openBulletins: [],
};

export const newWorld = (): World => ({
  facts: emptyFacts,
  now: start,
  actors: people.map(({ id, role }) => ({
    personId: id,
    name: id,
    role,
    shedIds: ['river'],
    roleSince: new Date(start - 48 * 60 * minute),
  })),
});

/** A release that the machine let pass, with the facts as they lay before it. */
export interface Passed {
  readonly facts: SpellFacts;
  readonly now: number;
  readonly releaser: Actor;
  readonly proof: ProofReading;
  readonly signedInMinutesAgo: number | null;
}

/** Carries a command out where the machine lets it; a release that passes is told. */
export function carryOut(world: World, told: Command, isSmallShop: boolean): Passed | null {
  world.now += 10 * minute;
  const now = new Date(world.now);
  const { facts } = world;
  const set = (change: Partial<SpellFacts>) => {
    world.facts = { ...facts, ...change };
    return null;
  };
  const order = facts.orders[0];
  const workOrder = (state: 'raised' | 'begun' | 'waiting' | 'finished') =>
    set({
      orders: [
        {
          number: 1001,
          state,
          finishedAt: state === 'finished' ? now : (order?.finishedAt ?? null),
          waitingFor: state === 'waiting' ? 'pump' : null,
          waitingUntil: null,
          week: null,
          isForSpell: true,
        },
      ],
    });
  switch (told.do) {
    case 'raise':
      return order ? null : workOrder('raised');
    case 'begin':
      return workOrder('begun');
    case 'wait':
      return order?.state === 'begun' ? workOrder('waiting') : null;
    case 'finish':
      return workOrder('finished');
    case 'open bulletin':
      return set({ openBulletins: ['B-7'] });
    case 'close bulletin':
      return set({ openBulletins: [] });
    case 'swap role': {
      const actor = world.actors[told.who];
      if (actor) world.actors[told.who] = { ...actor, role: told.role, roleSince: now };
      return null;
    }
    case 'certify': {
      const actor = world.actors[told.who] as Actor;
      const answer = mayCertify(facts, actor, { kind: told.kind, whatWasChecked: 'gauge joint' });
      return answer.ok
        ? set({ certificate: { kind: told.kind, by: actor.personId, at: now } })
        : null;
    }
    case 'read': {
      const reading: ProofReading = {
        readingId: `r${facts.readings.length}`,
        readBy: told.who === null ? null : (people[told.who]?.id ?? null),
        amendedBy: [],
        readAt: new Date(Math.max(start, world.now - told.ageMinutes * minute)),
        clockSkew: told.skew,
        isClockAccepted: false,
        failures: told.passes ? [] : [{ measure: 'pedal', found: 'hard' }],
        notMeasured: told.isWhole ? [] : ['hold'],
      };
      const readings = [...facts.readings, reading].sort((a, b) => +a.readAt - +b.readAt);
      return set({ readings });
    }
    case 'amend': {
      const target = facts.readings[told.pick];
      if (!target) return null;
      const amended: ProofReading = {
        ...target,
        failures: told.passes ? [] : [{ measure: 'pedal', found: 'hard' }],
        amendedBy: [...target.amendedBy, people[told.who]?.id ?? ''],
      };
      return set({ readings: facts.readings.map((one) => (one === target ? amended : one)) });
    }
    case 'accept clock': {
      const target = facts.readings[told.pick];
      const actor = world.actors[told.who] as Actor;
      if (!target || !mayAcceptClock(facts, actor, target.readingId).ok) return null;
      const readings = facts.readings.map((one) =>
        one === target ? { ...one, isClockAccepted: true } : one,
      );
      return set({ readings });
    }
    case 'release': {
      const actor = world.actors[told.who] as Actor;
      const signedInAgainAt =
        told.signedInMinutesAgo === null
          ? null
          : new Date(world.now - told.signedInMinutesAgo * minute);
      const answer = mayRelease(facts, actor, { now, signedInAgainAt, settings: { isSmallShop } });
      if (!answer.ok) return null;
      set({ releasedAt: now });
      const { signedInMinutesAgo } = told;
      return {
        facts,
        now: world.now,
        releaser: actor,
        proof: answer.value.proof,
        signedInMinutesAgo,
      };
    }
  }
}
