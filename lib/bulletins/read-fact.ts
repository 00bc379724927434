import { type Part, parts } from '@/lib/analysis/reading';
import { formatBuildDate } from '@/lib/bulletins/build-date';
import type { FactValue, MissingFact, Possible } from '@/lib/bulletins/possible';
import { readModelYear, readPlant, readSequence } from '@/lib/bulletins/read-vin-fact';
import {
  type BulletinFacts,
  type FactName,
  foldName,
  type PartFactName,
  weekOfDateCode,
} from '@/lib/bulletins/unit-facts';
import { isoFromDay } from '@/lib/calendar';
import { formatDistance } from '@/lib/measure';

const notOnRecord = (
  fact: string,
  whoCanGetIt: MissingFact['whoCanGetIt'],
  how: string,
): Possible => ({
  is: 'anything',
  told: () => `${fact} (not on record)`,
  missing: { fact, whoCanGetIt, how },
});

const known = (value: FactValue, told: () => string): Possible => ({ is: 'known', value, told });

const readName =
  (fact: 'make' | 'model' | 'engine', how: string) =>
  (facts: BulletinFacts): Possible => {
    const text = facts[fact];
    return text === null || text.trim() === ''
      ? notOnRecord(fact, 'technician', how)
      : known(foldName(text), () => `${fact} ${text.trim()}`);
  };

function readBuildDate({ built }: BulletinFacts): Possible {
  if (built === null) {
    return notOnRecord(
      'build date',
      'technician',
      "Read month and year from the maker's label in the driver's door opening.",
    );
  }
  const told = () => `build date ${formatBuildDate(built)}`;
  if (built.from === built.to) return known(built.from, told);
  const missing: MissingFact =
    built.precision === 'year'
      ? {
          fact: 'month of build',
          whoCanGetIt: 'technician',
          how: "Read it from the maker's label in the driver's door opening.",
        }
      : {
          fact: 'day of build',
          whoCanGetIt: 'fleet manager',
          how: 'The label need not give the day: ask the maker by VIN.',
        };
  return { is: 'within', from: built.from, to: built.to, told, missing };
}

const reading = (
  fact: string,
  measured: (newest: NonNullable<BulletinFacts['newest']>) => number | null,
  measure: 's' | 'kPa',
  { newest }: BulletinFacts,
  how: string,
): Possible => {
  const value = newest && measured(newest);
  return newest === null || value === null
    ? notOnRecord(fact, 'technician', how)
    : known(value, () => `${fact} ${value.toFixed(1)} ${measure} on ${isoFromDay(newest.readOn)}`);
};

function readLine({ newest }: BulletinFacts): Possible {
  if (newest === null || newest.line === 'not seen') {
    return notOnRecord('line', 'technician', 'Take the line off at the booster and look.');
  }
  return known(newest.line, () => `line ${newest.line} on ${isoFromDay(newest.readOn)}`);
}

function readOdometer({ odometer }: BulletinFacts): Possible {
  if (odometer === null) return notOnRecord('odometer', 'technician', 'Key it with a reading.');
  const told = () =>
    `odometer ${formatDistance(odometer.value, 'km')} on ${isoFromDay(odometer.readOn)}`;
  return known(odometer.value, told);
}

function readPart(facts: BulletinFacts, part: Part, asked: string): Possible {
  const fitment = facts.fitted.find((fitted) => fitted.part === part);
  const isRevision = asked === 'revision';
  const text = isRevision ? fitment?.revision : fitment?.dateCode;
  const fact = `${part} ${isRevision ? 'revision' : 'date code'}`;
  if (text === null || text === undefined || text.trim() === '') {
    return notOnRecord(fact, 'technician', `Read it from the ${part} that is fitted.`);
  }
  const told = () => `${fact} ${text.trim()}`;
  if (asked !== 'date code week') return known(foldName(text), told);
  const week = weekOfDateCode(text);
  if (week !== null) return known(week, told);
  return {
    is: 'anything',
    told: () => `${told()}, not year and week`,
    missing: {
      fact: `week of the ${fact}`,
      whoCanGetIt: 'fleet manager',
      how: "Ask the part's maker when it was made.",
    },
  };
}

type PlainFactName = Exclude<FactName, PartFactName>;

const readers: Readonly<Record<PlainFactName, (facts: BulletinFacts) => Possible>> = {
  make: readName('make', "Read it from the maker's label."),
  model: readName('model', 'Read it from the registration or the badge.'),
  engine: readName('engine', 'Read the engine code from the block or the emission label.'),
  'model year': readModelYear,
  plant: readPlant,
  'VIN sequence': readSequence,
  'build date': readBuildDate,
  odometer: readOdometer,
  line: readLine,
  recovery: (facts) =>
    reading(
      'recovery',
      ({ recovery }) => recovery,
      's',
      facts,
      'Time the recovery in the next reading.',
    ),
  'idle vacuum': (facts) =>
    reading(
      'idle vacuum',
      ({ idle }) => idle,
      'kPa',
      facts,
      'Take a reading with the engine warm.',
    ),
  lowest: (facts) =>
    reading(
      'lowest',
      ({ lowest }) => lowest,
      'kPa',
      facts,
      'Take a reading with the four presses.',
    ),
};

const isPlainFact = (fact: FactName): fact is PlainFactName => fact in readers;

/** What one fact may be, by the unit's record alone. An absent fact is never given a usual value. */
export function readFact(fact: FactName, facts: BulletinFacts): Possible {
  if (isPlainFact(fact)) return readers[fact](facts);
  const part = parts.find((name) => fact.startsWith(`${name} `));
  return part
    ? readPart(facts, part, fact.slice(part.length + 1))
    : notOnRecord(fact, 'technician', 'Look.');
}
