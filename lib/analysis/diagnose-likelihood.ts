import type { DiagnosisInput } from '@/lib/analysis/diagnose';
import { type Signature, signatures } from '@/lib/analysis/diagnose-signatures';
import { type Kilopascals, type Seconds, toKilopascals } from '@/lib/measure';

/** Measurements that a cause is judged by. */
export const features = ['idle', 'lowest', 'recovery', 'hold', 'raised', 'oil'] as const;
export type Feature = (typeof features)[number];
export type SignedCause = Signature['cause'];

export interface CauseLikelihood {
  readonly posterior: Readonly<Record<SignedCause, number>>;
  /** Of each measurement made: log likelihood under a cause, over the severities that fit the visit. */
  readonly byFeature: ReadonlyMap<Feature, Readonly<Record<SignedCause, number>>>;
  /** Largest deviation from the best signature, in standard deviations. */
  readonly worstFit: number;
}

export const signedCauses = [
  'pump',
  'leak',
  'check valve',
  'restricted line',
  'slipping belt',
  'none shown',
] as const satisfies readonly SignedCause[];

/** Degrees of freedom of Student's t: one mis-keyed value cannot outvote the others. */
const tails = 5;
const mostSquare = 1e12;
/** One reading against a baseline of three or four: sigma sqrt(1 + 1.57 / 4). */
const againstBaseline = Math.sqrt(1 + 1.57 / 4);
const recoveryDeviation = 0.15;
/** Beyond this ratio a technician stops waiting, and slower is not told from slow. */
const mostRecoveryRatio = 3.3;
/** Wide: sound pumps gain anything from nothing to half a psi at raised speed. */
const raisedDeviation = toKilopascals(0.4, 'psi');
const holdDeviation = toKilopascals(0.1, 'psi');
/** Sound boosters differ in how well they hold: by this much in 60 s. */
const holdSpread = toKilopascals(0.03, 'psi');
const holdShare = 0.15;
/** Own assumption: how often a visit finds oil with a worn pump, and with anything else. */
const oilWithPump = 0.35;
const oilOtherwise = 0.05;
/** Own assumption: chance that a fault seen now had not begun by the visit before. */
const notBegun = 0.5;
/** However odd the visit before was, it cannot rule a cause out alone. */
const leastBefore = 1e-6;
const defaultNoise = toKilopascals(0.3, 'psi');

/** Fall in a hold of another length: straight lines through 0, 60 and 300 s. */
export function lossAfter(signature: Signature, holdTime: Seconds): Kilopascals {
  if (holdTime <= 60) return (signature.loss60 * holdTime) / 60;
  const share = Math.min(1, (holdTime - 60) / 240);
  return signature.loss60 + share * (signature.loss300 - signature.loss60);
}

/** One measurement against every signature, in the order of `signatures`. */
interface Measurement {
  readonly feature: Feature;
  readonly deviations: Float64Array;
  readonly densities: Float64Array;
}

const logRatio = (ratio: number) => Math.log(Math.min(ratio, mostRecoveryRatio));
const column = (of: (signature: Signature) => number) => Float64Array.from(signatures, of);
const expectedOf = {
  idle: column((s) => s.idleDrop),
  lowest: column((s) => s.lowestDrop),
  recovery: column((s) => logRatio(s.recoveryRatio)),
  raised: column((s) => s.raisedDifference),
};

function measurementsOf(input: DiagnosisInput): Measurement[] {
  const sigma = (input.noise ?? defaultNoise) * againstBaseline;
  const { idleDrop, lowestDrop, recovery, recoveryBaseline, holdLoss, holdTime } = input;
  const made: Measurement[] = [];
  const add = (feature: keyof typeof expectedOf, value: number, deviation: number) =>
    made.push(measured(feature, value, expectedOf[feature], () => deviation));

  if (idleDrop !== null) add('idle', idleDrop, sigma);
  if (lowestDrop !== null) add('lowest', lowestDrop, sigma);
  if (recovery !== null && recovery > 0 && recoveryBaseline !== null && recoveryBaseline > 0)
    add('recovery', logRatio(recovery / recoveryBaseline), recoveryDeviation);
  if (holdLoss !== null && holdTime !== null && holdTime > 0) {
    const most = input.idle ?? Number.POSITIVE_INFINITY;
    const spread = (holdSpread * holdTime) / 60;
    const variance = holdDeviation ** 2 + spread ** 2;
    const losses = new Float64Array(signatures.length);
    for (let k = 0; k < losses.length; k++)
      losses[k] = Math.min(lossAfter(signatures[k]!, holdTime), most);
    made.push(
      measured('hold', holdLoss, losses, (loss) => Math.sqrt(variance + (holdShare * loss) ** 2)),
    );
  }
  if (input.raisedDifference !== null) add('raised', input.raisedDifference, raisedDeviation);
  return made;
}

function measured(
  feature: Feature,
  value: number,
  expected: Float64Array,
  deviationOf: (expected: number) => number,
): Measurement {
  const deviations = new Float64Array(expected.length);
  const densities = new Float64Array(expected.length);
  for (let k = 0; k < expected.length; k++) {
    const spread = deviationOf(expected[k]!);
    const z = (value - expected[k]!) / spread;
    deviations[k] = Math.abs(z);
    densities[k] = density(z, spread);
  }
  return { feature, deviations, densities };
}

/** Student's t without its constant; so cut off that a product of five cannot vanish. */
function density(z: number, deviation: number): number {
  const share = 1 / (1 + Math.min(z * z, mostSquare) / tails);
  return (share * share * share) / deviation;
}

/**
 * Posterior of the causes: naive Bayes over a library of signatures, every cause equally likely before
 * the visit, its severities equally likely within it, measurements independent given both with Student
 * t errors (5 degrees of freedom); a fault does not get better from the visit `before` to this one.
 * What was not measured is left out.
 */
export function causeLikelihood(
  input: DiagnosisInput,
  before: DiagnosisInput | null = null,
): CauseLikelihood {
  const measurements = measurementsOf(input);
  const hasOil = input.line === 'wet' || input.line === 'film';
  const oilShare = (cause: SignedCause) => {
    if (input.line === 'not seen') return 1;
    const share = cause === 'pump' ? oilWithPump : oilOtherwise;
    return hasOil ? share : 1 - share;
  };
  const prior = signedCauses.map((cause) => oilShare(cause) / counts[cause]);
  const weights = new Float64Array(signatures.length);
  for (let k = 0; k < weights.length; k++) weights[k] = prior[causeOf[k]!]!;
  for (const { densities } of measurements)
    for (let k = 0; k < weights.length; k++) weights[k] = weights[k]! * densities[k]!;
  if (before) weighByVisitBefore(weights, before);
  const posterior = sumByCause(weights, null);
  let best = 0;
  let total = 0;
  for (let k = 0; k < weights.length; k++) {
    total += weights[k]!;
    if (weights[k]! > weights[best]!) best = k;
  }
  const worstFit = Math.max(0, ...measurements.map(({ deviations }) => deviations[best]!));

  const byFeature = new Map<Feature, Record<SignedCause, number>>();
  for (const { feature, densities } of measurements) {
    const weighted = sumByCause(weights, densities);
    byFeature.set(
      feature,
      eachCause((cause) => Math.log(weighted[cause]! / posterior[cause]!)),
    );
  }
  if (input.line !== 'not seen')
    byFeature.set(
      'oil',
      eachCause((_, cause) => Math.log(oilShare(cause))),
    );
  return { posterior: eachCause((cause) => posterior[cause]! / total), byFeature, worstFit };
}

/**
 * The visit before, by the same cause: as likely as not it had not begun, otherwise each severity up to
 * the present one is equally likely. Oil counts once.
 */
function weighByVisitBefore(weights: Float64Array, before: DiagnosisInput): void {
  const likelihood = new Float64Array(signatures.length).fill(1);
  for (const { densities } of measurementsOf(before))
    for (let k = 0; k < likelihood.length; k++) likelihood[k] = likelihood[k]! * densities[k]!;
  const most = Math.max(...likelihood);
  for (let k = 0; k < likelihood.length; k++)
    likelihood[k] = Math.max(likelihood[k]! / most, leastBefore);
  const sound = likelihood[soundAt]!;
  let sum = 0;
  let severities = 0;
  for (let k = 0; k < weights.length; k++) {
    if (isMildest[k]) {
      sum = 0;
      severities = 0;
    }
    sum += likelihood[k]!;
    severities++;
    weights[k] = weights[k]! * (notBegun * sound + ((1 - notBegun) * sum) / severities);
  }
}

/** Sums of `weights`, each times its own of `times` where given, by cause. */
function sumByCause(weights: Float64Array, times: Float64Array | null): Float64Array {
  const sums = new Float64Array(signedCauses.length);
  for (let k = 0; k < weights.length; k++) {
    const cause = causeOf[k]!;
    sums[cause] = sums[cause]! + weights[k]! * (times ? times[k]! : 1);
  }
  return sums;
}

function eachCause(
  value: (index: number, cause: SignedCause) => number,
): Record<SignedCause, number> {
  return {
    pump: value(0, 'pump'),
    leak: value(1, 'leak'),
    'check valve': value(2, 'check valve'),
    'restricted line': value(3, 'restricted line'),
    'slipping belt': value(4, 'slipping belt'),
    'none shown': value(5, 'none shown'),
  };
}

const soundAt = signatures.findIndex(({ cause }) => cause === 'none shown');
/** Severities of one cause, and of one way to wear, stand together from the mildest up. */
const isMildest = signatures.map(({ cause, lowestDrop, loss60 }, k) => {
  const last = signatures[k - 1];
  return last?.cause !== cause || (lowestDrop < last.lowestDrop && loss60 >= last.loss60);
});

/** Of each signature, the place of its cause in `signedCauses`. */
const causeOf = Uint8Array.from(signatures, ({ cause }) => signedCauses.indexOf(cause));
const counts = eachCause((index) => causeOf.filter((cause) => cause === index).length);
