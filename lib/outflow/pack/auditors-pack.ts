import { evidenceTables } from './evidence-tables';
import { type PackBlock, type PackReader, utc } from './pack-blocks';
import type { PackCheck, PackFacts, PackScope } from './pack-facts';
import { recordTables } from './record-tables';
import { unitBlocks } from './unit-blocks';

export interface Pack {
  readonly title: string;
  readonly blocks: readonly PackBlock[];
}

const scopeWords = ({ unitId, from, to }: PackScope): string => {
  const period = from || to ? `${from ?? 'the first record'} to ${to ?? 'today'}` : '';
  if (unitId === null) return `all units, ${period}`;
  return period ? `unit ${unitId}, ${period}` : `unit ${unitId}`;
};

/**
 * The auditor's pack: what the record holds of a unit or a period, in the order in which an auditor
 * asks, with how the ledger's chain stood when it was made. Figures in the reader's units, times UTC.
 * Source: own choice; identity and retention by 49 CFR 396.3. Thin data: a table without rows stays,
 * and says that nothing is on record.
 */
export function auditorsPack(facts: PackFacts, check: PackCheck, reader: PackReader): Pack {
  const title = `Auditor's pack: ${scopeWords(facts.scope)}`;
  return {
    title,
    blocks: [
      { is: 'heading', text: title },
      {
        is: 'text',
        text: `Made ${utc(check.checkedAt)} for ${reader.name}. Times are UTC and days are days in UTC, as the ledger hashes them. Pressures in ${reader.pressure} below ambient, distances in ${reader.distance}. A character that the face of this paper lacks, or that only steers the text, stands as its number, such as [U+202E].`,
      },
      {
        is: 'text',
        text: 'Marks and limits are the fleet’s own and are never the law. No line of this pack says that a unit may be driven; service information in force, local law and a licensed technician come before anything in it.',
      },
      ...checkBlocks(check),
      ...unitBlocks(facts),
      ...evidenceTables(facts, reader),
      ...recordTables(facts, reader),
    ],
  };
}

function checkBlocks(check: PackCheck): PackBlock[] {
  const { entries, head, faults, headsHeld, spoiltHeads, checkedAt } = check;
  const [first] = faults;
  const against =
    headsHeld > 0
      ? `held against ${headsHeld === 1 ? '1 head' : `${headsHeld} heads`} kept outside the database`
      : 'with no head kept outside the database, so that a cut tail could not be seen';
  const blocks: PackBlock[] = [{ is: 'heading', text: 'Verification of the ledger' }];
  if (first) {
    blocks.push({
      is: 'alarm',
      text: `BROKEN at entry ${first.entry} (${first.fault}); ${faults.length} faults in ${entries} entries, walked ${utc(checkedAt)}, ${against}. Entries from there on prove nothing.`,
    });
  } else {
    blocks.push({
      is: 'text',
      text: `Unbroken: all ${entries} entries of the chain were walked ${utc(checkedAt)}, ${against}. Head SHA-256 ${head ?? 'none'}.`,
    });
  }
  for (const name of spoiltHeads) {
    blocks.push({ is: 'alarm', text: `The kept head ${name} could not be read.` });
  }
  return blocks;
}
