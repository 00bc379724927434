import { type Part, parts } from '@/lib/analysis/reading';
import { known, notOnRecord, type Possible } from '@/lib/bulletins/possible';
import {
  type BulletinFacts,
  type FactReader,
  foldName,
  type PartFactName,
  weekOfDateCode,
} from '@/lib/bulletins/unit-facts';

function readPart(
  fact: string,
  text: string | null | undefined,
  part: Part,
  orderOf: ((code: string) => number | null) | null,
): Possible {
  if (text === null || text === undefined || text.trim() === '') {
    return notOnRecord(fact, 'technician', `Read it from the ${part} that is fitted.`);
  }
  const told = () => `${fact} ${text.trim()}`;
  if (orderOf === null) return known(foldName(text), told);
  const order = orderOf(text);
  if (order !== null) return known(order, told);
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

function partReader(part: Part, asked: 'revision' | 'date code' | 'date code week'): FactReader {
  const fitmentOf = ({ fitted }: BulletinFacts) => fitted.find((it) => it.part === part);
  if (asked === 'revision') {
    return (facts) => readPart(`${part} revision`, fitmentOf(facts)?.revision, part, null);
  }
  const orderOf = asked === 'date code' ? null : weekOfDateCode;
  return (facts) => readPart(`${part} date code`, fitmentOf(facts)?.dateCode, part, orderOf);
}

/** Readers of what is asked of each part that is fitted now. */
export const partReaders = Object.fromEntries(
  parts.flatMap((part) =>
    (['revision', 'date code', 'date code week'] as const).map((asked) => [
      `${part} ${asked}`,
      partReader(part, asked),
    ]),
  ),
) as Record<PartFactName, FactReader>;
