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
const defaultNoise = toKilopascals(0.3, 'psi');

/** Fall in a hold of another length: straight lines through 0, 60 and 300 s. */
export function lossAfter(signature: Signature, holdTime: Seconds): Kilopascals {
  if (holdTime <= 60) return (signature.loss60 * holdTime) / 60;
  const share = Math.min(1, (holdTime - 60) / 240);
  return signature.loss60 + share * (signature.loss300 - signature.loss60);
}

/** Deviation of one measurement from one signature in standard deviations, with that deviation. */
type Deviation = (signature: Signature) => { readonly z: number; readonly deviation: number };

function deviations(input: DiagnosisInput): ReadonlyMap<Feature, Deviation> {
  const sigma = (input.noise ?? defaultNoise) * againstBaseline;
  const found = new Map<Feature, Deviation>();
  const { idleDrop, lowestDrop, recovery, recoveryBaseline, holdLoss, holdTime } = input;
  const fixed = (value: number, deviation: number, expected: (s: Signature) => number) =>
    ((signature) => ({
      z: (value - expected(signature)) / deviation,
      deviation,
    })) satisfies Deviation;

  if (idleDrop !== null)
    found.set(
      'idle',
      fixed(idleDrop, sigma, (s) => s.idleDrop),
    );
  if (lowestDrop !== null)
    found.set(
      'lowest',
      fixed(lowestDrop, sigma, (s) => s.lowestDrop),
    );
  if (recovery !== null && recovery > 0 && recoveryBaseline !== null && recoveryBaseline > 0) {
    const log = (ratio: number) => Math.log(Math.min(ratio, mostRecoveryRatio));
    const value = log(recovery / recoveryBaseline);
    found.set(
      'recovery',
      fixed(value, recoveryDeviation, (s) => log(s.recoveryRatio)),
    );
  }
  if (holdLoss !== null && holdTime !== null && holdTime > 0)
    found.set('hold', (signature) => {
      const expected = lossAfter(signature, holdTime);
      const most = input.idle ?? Number.POSITIVE_INFINITY;
      const deviation = Math.hypot(
        holdDeviation,
        (holdSpread * holdTime) / 60,
        holdShare * expected,
      );
      return { z: (holdLoss - Math.min(expected, most)) / deviation, deviation };
    });
  if (input.raisedDifference !== null)
    found.set(
      'raised',
      fixed(input.raisedDifference, raisedDeviation, (s) => s.raisedDifference),
    );
  return found;
}

const logDensity = ({ z, deviation }: ReturnType<Deviation>): number =>
  -((tails + 1) / 2) * Math.log1p((z * z) / tails) - Math.log(deviation);

/**
 * Posterior of the causes: naive Bayes over a library of signatures, every cause equally likely before
 * the visit, its severities equally likely within it, measurements independent given both with Student
 * t errors (5 degrees of freedom). What was not measured is left out.
 */
export function causeLikelihood(input: DiagnosisInput): CauseLikelihood {
  const measured = deviations(input);
  const seesOil = input.line !== 'not seen';
  const oil = input.line === 'wet' || input.line === 'film';
  const oilLog = (cause: SignedCause) => {
    const share = cause === 'pump' ? oilWithPump : oilOtherwise;
    return Math.log(oil ? share : 1 - share);
  };
  const terms = signatures.map((signature) =>
    [...measured.values()].map((deviation) => deviation(signature)),
  );
  const densities = terms.map((deviation) => deviation.map(logDensity));
  const totals = densities.map(
    (density, node) =>
      density.reduce((sum, value) => sum + value, 0) +
      (seesOil ? oilLog(signatures[node]!.cause) : 0) -
      Math.log(counts[signatures[node]!.cause]),
  );
  const highest = totals.reduce((a, b) => Math.max(a, b));
  const weights = totals.map((total) => Math.exp(total - highest));
  const all = weights.reduce((sum, value) => sum + value, 0);
  const ofCause = (cause: SignedCause, value: (node: number) => number) =>
    signatures.reduce((sum, s, node) => (s.cause === cause ? sum + value(node) : sum), 0);

  const byFeature = new Map<Feature, Record<SignedCause, number>>();
  [...measured.keys()].forEach((feature, index) => {
    byFeature.set(
      feature,
      eachCause((cause) =>
        Math.log(
          ofCause(cause, (node) => weights[node]! * Math.exp(densities[node]![index]!)) /
            ofCause(cause, (node) => weights[node]!),
        ),
      ),
    );
  });
  if (seesOil) byFeature.set('oil', eachCause(oilLog));

  const best = terms[totals.indexOf(highest)]!;
  return {
    posterior: eachCause((cause) => ofCause(cause, (node) => weights[node]!) / all),
    byFeature,
    worstFit: best.reduce((worst, { z }) => Math.max(worst, Math.abs(z)), 0),
  };
}

const eachCause = (value: (cause: SignedCause) => number) =>
  Object.fromEntries(signedCauses.map((cause) => [cause, value(cause)])) as Record<
    SignedCause,
    number
  >;

const counts = eachCause((cause) => signatures.filter((s) => s.cause === cause).length);
