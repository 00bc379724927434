import type { Cause, Diagnosis } from '@/lib/analysis/assessment';
import { describeFeature } from '@/lib/analysis/diagnose-evidence';
import {
  type CauseLikelihood,
  causeLikelihood,
  type SignedCause,
  signedCauses,
} from '@/lib/analysis/diagnose-likelihood';
import { nextCheckFor } from '@/lib/analysis/diagnose-next-check';
import type { LineState } from '@/lib/analysis/reading';
import type { Kilopascals, PressureUnit, Seconds } from '@/lib/measure';

/** What one visit shows, against the unit's own baseline. `null` is "not measured". */
export interface DiagnosisInput {
  /** Own baseline less this reading, SLE; positive is worse. */
  readonly idleDrop: Kilopascals | null;
  readonly lowestDrop: Kilopascals | null;
  readonly recovery: Seconds | null;
  readonly recoveryBaseline: Seconds | null;
  /** As read, with its own duration. */
  readonly holdLoss: Kilopascals | null;
  readonly holdTime: Seconds | null;
  /** Idle vacuum as read: what a hold starts from. */
  readonly idle: Kilopascals | null;
  /** Vacuum at raised speed less idle vacuum, as read. */
  readonly raisedDifference: Kilopascals | null;
  readonly line: LineState;
  /** The fleet's own noise of one idle reading; 0.3 psi until it is known. */
  readonly noise?: Kilopascals;
  /** Unit that the evidence is written in. */
  readonly pressureUnit?: PressureUnit;
}

const leastToSay = 0.4;
const leastAlternative = 0.1;
const fair = 0.7;
const high = 0.9;
/** A visit further than this from every signature has two causes, or a value in error. */
const worstSingleCause = 4;
const noSingleCause =
  'No single cause explains every measurement: there may be two, or a value in error.';
/** Difference of log likelihoods from which one cause explains a measurement better than another. */
const explainsBetter = 1;

/**
 * Probable cause of weak or leaking vacuum from a visit, and the one before where it is given, by the probability of each cause given what
 * was measured (see `causeLikelihood`), with the measurements that speak for and against it, the causes
 * not ruled out, and the check that tells most next. Pressures in kPa.
 * Source: own method; signatures and prior shares are assumptions of a lumped model, not fleet data.
 * Thin data: `cannot tell`, when nothing but the line was seen, no cause reaches 40%, or the
 * visit is far from sound and yet like no cause.
 *
 * @example diagnose with idle 14 kPa down, recovery 0.8 of baseline and a tight hold says `pump`
 */
export function diagnose(input: DiagnosisInput, before: DiagnosisInput | null = null): Diagnosis {
  const likelihood = causeLikelihood(input, before);
  const ranked = signedCauses
    .map((cause) => ({ cause, probability: likelihood.posterior[cause] }))
    .sort((a, b) => b.probability - a.probability);
  const first = ranked[0]!;
  const measured = [...likelihood.byFeature.keys()].some((feature) => feature !== 'oil');
  const fits = likelihood.worstFit <= worstSingleCause;
  const isUnexplained = first.cause === 'none shown' && !fits;
  const canTell = measured && first.probability >= leastToSay && !isUnexplained;
  const said: Cause = canTell ? first.cause : 'cannot tell';
  const alternatives = measured
    ? ranked
        .filter(({ cause, probability }) => cause !== said && probability >= leastAlternative)
        .map(({ cause }) => cause)
    : [];
  const evidence = canTell ? evidenceOn(first.cause, likelihood, input) : { for: [], against: [] };

  return {
    said,
    alternatives,
    confidence: confidenceOf(canTell && fits ? first.probability : 0),
    evidenceFor: evidence.for,
    evidenceAgainst: fits ? evidence.against : [...evidence.against, noSingleCause],
    nextCheck: nextCheckFor(said, alternatives, input),
    oilAtBooster: input.line === 'wet' || input.line === 'film',
  };
}

const confidenceOf = (probability: number): Diagnosis['confidence'] =>
  probability >= high ? 'high' : probability >= fair ? 'fair' : 'low';

/** For: the cause explains it about as well as any, and some other cause does not. Against: another does better. */
function evidenceOn(
  said: SignedCause,
  likelihood: CauseLikelihood,
  input: DiagnosisInput,
): { for: string[]; against: string[] } {
  const supports: string[] = [];
  const contradicts: string[] = [];
  for (const [feature, byCause] of likelihood.byFeature) {
    const all = signedCauses.map((cause) => byCause[cause]);
    if (byCause[said] < Math.max(...all) - explainsBetter)
      contradicts.push(describeFeature(feature, input));
    else if (byCause[said] > Math.min(...all) + explainsBetter)
      supports.push(describeFeature(feature, input));
  }
  return { for: supports, against: contradicts };
}
