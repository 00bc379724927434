import type { DiagnosisInput } from '@/lib/analysis/diagnose';
import type { Feature } from '@/lib/analysis/diagnose-likelihood';
import { fromKilopascals, type Kilopascals, toKilopascals } from '@/lib/measure';

/** Loss below which the booster side counts as tight: the defaults of the 60 s and 5 min cautions. */
const tightRate = toKilopascals(0.5, 'psi') / 60;

/** One measurement as a sentence with its figure, for the evidence of a diagnosis. */
export function describeFeature(feature: Feature, input: DiagnosisInput): string {
  const unit = input.pressureUnit ?? 'psi';
  const size = (value: Kilopascals) =>
    `${Math.abs(fromKilopascals(value, unit)).toFixed(1)} ${unit}`;
  const against = (drop: Kilopascals) =>
    `${size(drop)} ${drop < 0 ? 'above' : 'below'} its own baseline`;
  switch (feature) {
    case 'idle':
      return `Idle is ${against(input.idleDrop!)}.`;
    case 'lowest':
      return `Lowest is ${against(input.lowestDrop!)}.`;
    case 'recovery': {
      const ratio = input.recovery! / input.recoveryBaseline!;
      return `Recovery takes ${ratio.toFixed(1)} times its own baseline.`;
    }
    case 'hold': {
      const lost = `The hold lost ${size(Math.max(0, input.holdLoss!))} in ${Math.round(input.holdTime!)} s`;
      return input.holdLoss! / input.holdTime! <= tightRate
        ? `${lost}: tight on the booster side of the check valve; the pump side does not show in a hold.`
        : `${lost}.`;
    }
    case 'raised':
      return `Raised speed changes the vacuum by ${size(input.raisedDifference!)}.`;
    case 'oil':
      return input.line === 'wet' || input.line === 'film'
        ? 'There is oil in the line at the booster.'
        : 'The line is dry at the booster.';
  }
}
