import { formatBuildDate } from '@/lib/bulletins/build-date';
import { known, type MissingFact, notOnRecord, type Possible } from '@/lib/bulletins/possible';
import { partReaders } from '@/lib/bulletins/read-part-fact';
import { readModelYear, readPlant, readSequence } from '@/lib/bulletins/read-vin-fact';
import {
  type BulletinFacts,
  type FactName,
  type FactReader,
  foldName,
  type PartFactName,
} from '@/lib/bulletins/unit-facts';
import { isoFromDay } from '@/lib/calendar';
import { formatDistance } from '@/lib/measure';

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

type PlainFactName = Exclude<FactName, PartFactName>;

const plainReaders: Readonly<Record<PlainFactName, FactReader>> = {
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

const readers: Readonly<Record<FactName, FactReader>> = { ...plainReaders, ...partReaders };

/** What one fact may be, by the unit's record alone. An absent fact is never given a usual value. */
export const readFact = (fact: FactName, facts: BulletinFacts): Possible => readers[fact](facts);
