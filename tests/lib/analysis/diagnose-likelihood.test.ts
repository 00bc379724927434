import { describe, expect, it } from 'vitest';
import type { DiagnosisInput } from '@/lib/analysis/diagnose';
import {
  causeLikelihood,
  type Feature,
  lossAfter,
  type SignedCause,
  signedCauses,
} from '@/lib/analysis/diagnose-likelihood';
import { type Signature, signatures } from '@/lib/analysis/diagnose-signatures';
import { psi } from '../../support/a-unit';
import { randomFrom } from '../../support/random';

/** Student's t of 5 degrees of freedom, without the constant that all share. */
const t5 = (z: number, spread: number) => (1 + z ** 2 / 5) ** -3 / spread;
const logRatio = (ratio: number) => Math.log(Math.min(ratio, 3.3));

/** Each measurement against one signature, as the method states it: deviation and spread. */
function against(input: DiagnosisInput, signature: Signature): Map<Feature, [number, number]> {
  const vacuum = (input.noise ?? psi(0.3)) * Math.sqrt(1 + 1.57 / 4);
  const made = new Map<Feature, [number, number]>();
  const add = (feature: Feature, value: number, expected: number, spread: number) =>
    made.set(feature, [(value - expected) / spread, spread]);
  if (input.idleDrop !== null) add('idle', input.idleDrop, signature.idleDrop, vacuum);
  if (input.lowestDrop !== null) add('lowest', input.lowestDrop, signature.lowestDrop, vacuum);
  if (input.recovery && input.recoveryBaseline) {
    const ratio = logRatio(input.recovery / input.recoveryBaseline);
    add('recovery', ratio, logRatio(signature.recoveryRatio), 0.15);
  }
  if (input.holdLoss !== null && input.holdTime) {
    const loss = Math.min(lossAfter(signature, input.holdTime), input.idle ?? Infinity);
    const own = psi(0.03) * (input.holdTime / 60);
    add('hold', input.holdLoss, loss, Math.hypot(psi(0.1), own, 0.15 * loss));
  }
  if (input.raisedDifference !== null)
    add('raised', input.raisedDifference, signature.raisedDifference, psi(0.4));
  return made;
}

const likelihoodOf = (input: DiagnosisInput, signature: Signature) =>
  [...against(input, signature).values()].reduce((all, [z, spread]) => all * t5(z, spread), 1);
const oilOf = ({ line }: DiagnosisInput, cause: SignedCause) => {
  if (line === 'not seen') return 1;
  const share = cause === 'pump' ? 0.35 : 0.05;
  return line === 'dry' ? 1 - share : share;
};

/** As likely as not the fault had not begun, else each milder severity of its kind is as likely. */
function beforeWeights(before: DiagnosisInput): number[] {
  const all = signatures.map((signature) => likelihoodOf(before, signature));
  const most = Math.max(...all);
  const held = all.map((likelihood) => Math.max(likelihood / most, 1e-6));
  const sound = held[signatures.findIndex(({ cause }) => cause === 'none shown')]!;
  let milder: number[] = [];
  return signatures.map(({ cause, lowestDrop, loss60 }, k) => {
    const last = signatures[k - 1];
    const isOtherKind = lowestDrop < (last?.lowestDrop ?? 0) && loss60 >= last!.loss60;
    milder = last?.cause === cause && !isOtherKind ? [...milder, held[k]!] : [held[k]!];
    return (sound + milder.reduce((a, b) => a + b) / milder.length) / 2;
  });
}

function plainly(input: DiagnosisInput, before: DiagnosisInput | null) {
  const earlier = before ? beforeWeights(before) : signatures.map(() => 1);
  const weights = signatures.map((signature, k) => {
    const severities = signatures.filter(({ cause }) => cause === signature.cause).length;
    return (
      (oilOf(input, signature.cause) / severities) * likelihoodOf(input, signature) * earlier[k]!
    );
  });
  const total = weights.reduce((a, b) => a + b);
  const best = signatures[weights.indexOf(Math.max(...weights))]!;
  const sumOf = (cause: SignedCause, times: (signature: Signature) => number = () => 1) =>
    weights.reduce(
      (sum, weight, k) =>
        signatures[k]!.cause === cause ? sum + weight * times(signatures[k]!) : sum,
      0,
    );
  return {
    posterior: (cause: SignedCause) => sumOf(cause) / total,
    logOf: (feature: Feature, cause: SignedCause) =>
      feature === 'oil'
        ? Math.log(oilOf(input, cause))
        : Math.log(
            sumOf(cause, (signature) => t5(...against(input, signature).get(feature)!)) /
              sumOf(cause),
          ),
    worstFit: Math.max(0, ...[...against(input, best).values()].map(([z]) => Math.abs(z))),
  };
}

describe('the likelihood of each cause', () => {
  const { uniform } = randomFrom(5);
  const maybe = <Value>(value: Value) => (uniform() < 0.25 ? null : value);
  const anyInput = (): DiagnosisInput => ({
    idleDrop: maybe(20 * uniform() - 2),
    lowestDrop: maybe(20 * uniform() - 2),
    recovery: maybe(60 * uniform()),
    recoveryBaseline: maybe(10),
    holdLoss: maybe(6 * uniform()),
    holdTime: maybe([15, 60, 120, 300, 600][Math.floor(5 * uniform())]!),
    idle: maybe(3 + 80 * uniform()),
    raisedDifference: maybe(8 * uniform()),
    line: (['dry', 'film', 'wet', 'not seen'] as const)[Math.floor(4 * uniform())]!,
    ...(uniform() < 0.3 && { noise: psi(0.5) }),
  });

  it('is what the method states, worked out plainly', () => {
    for (let k = 0; k < 60; k++) {
      const input = anyInput();
      const before = k % 2 === 0 ? null : anyInput();
      const found = causeLikelihood(input, before);
      const expected = plainly(input, before);
      expect([...found.byFeature.keys()].toSorted()).toEqual(
        [
          ...against(input, signatures[0]!).keys(),
          ...(input.line === 'not seen' ? [] : ['oil' as const]),
        ].toSorted(),
      );
      expect(found.worstFit).toBeCloseTo(expected.worstFit, 8);
      for (const cause of signedCauses) {
        expect(found.posterior[cause]).toBeCloseTo(expected.posterior(cause), 10);
        for (const [feature, byCause] of found.byFeature)
          expect(byCause[cause]).toBeCloseTo(expected.logOf(feature, cause), 8);
      }
    }
  });

  it('leaves out a time that is none', () => {
    const input = { ...anyInput(), recovery: 8, recoveryBaseline: 8, holdLoss: 1, holdTime: 60 };
    const features = (change: Partial<DiagnosisInput>) => [
      ...causeLikelihood({ ...input, ...change }).byFeature.keys(),
    ];
    expect(features({})).toEqual(expect.arrayContaining(['recovery', 'hold']));
    for (const none of [0, -1, null]) {
      expect(features({ recovery: none })).not.toContain('recovery');
      expect(features({ recoveryBaseline: none })).not.toContain('recovery');
      expect(features({ holdTime: none })).not.toContain('hold');
    }
  });

  it('a fall runs straight through 0, 60 and 300 s, and no further', () => {
    for (const signature of signatures) {
      const { loss60, loss300 } = signature;
      const falls = [0, 30, 60, 180, 300, 900].map((time) => lossAfter(signature, time));
      const expected = [0, loss60 / 2, loss60, (loss60 + loss300) / 2, loss300, loss300];
      for (const [k, fall] of falls.entries()) expect(fall).toBeCloseTo(expected[k]!, 10);
    }
  });
});
