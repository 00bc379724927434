import { createHash } from 'node:crypto';

/** Share of the mutants to try, and which: both from the environment, all of them without. */
const share = Number(process.env.MUTATION_SHARE ?? 1);
const seed = process.env.MUTATION_SEED ?? '1';
if (!(share > 0 && share <= 1)) throw new RangeError('MUTATION_SHARE lies above 0 and up to 1');

export const isWhole = share === 1;

export const outsideSample = 'outside the sample';

/** The same mutants at each run of a seed, whatever changes elsewhere in the program. */
export function isInSample({ fileName, location, mutatorName, replacement }) {
  const hash = createHash('sha256').update(
    JSON.stringify([
      seed,
      fileName.replace(/^.*(?=[\\/]lib[\\/])/, ''),
      location,
      mutatorName,
      replacement,
    ]),
  );
  return isWhole || hash.digest().readUInt32BE() / 2 ** 32 < share;
}

/** Wilson's 95 % interval of a share found in a sample (Brown, Cai and DasGupta 2001). */
export function wilson(found, tried) {
  const z = 1.959963984540054;
  const middle = (found + z ** 2 / 2) / (tried + z ** 2);
  const half = (z / (tried + z ** 2)) * Math.sqrt((found * (tried - found)) / tried + z ** 2 / 4);
  return [middle - half, middle + half];
}
