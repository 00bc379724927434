import { type DiagnosisInput, diagnose } from '@/lib/analysis/diagnose';
import { type SignedCause, signedCauses } from '@/lib/analysis/diagnose-likelihood';
import { fromKilopascals } from '@/lib/measure';
import { faultyAt } from '../support/derive-signatures';
import { visit } from '../support/pump-model';
import { type Random, randomFrom } from '../support/random';
import {
  anySound,
  longestTimed,
  oilShare,
  simulatedVisits,
  visitErrors,
} from '../support/simulated-visits';

const each = 200;
const drawn = 500;
const inPsi = (value: number | null) => fromKilopascals(value!, 'psi');

/** What a fault shows without error. psi, and the logarithm of the recovery's ratio. */
interface Shown {
  readonly cause: SignedCause;
  readonly idle: number;
  readonly lowest: number;
  readonly logRatio: number;
  readonly loss: number;
}

function showing(random: Random, cause: SignedCause, seconds: number): Shown {
  const system = anySound(random);
  const severity = random.uniform();
  const isByClearance = random.uniform() < 0.5;
  const before = visit(system);
  const after = visit(
    cause === 'none shown' ? system : faultyAt(cause, severity, isByClearance, system),
  );
  const seaLevel = 14.696 / system.ambient;
  return {
    cause,
    idle: (before.idle - after.idle) * seaLevel,
    lowest: (before.lowest - after.lowest) * seaLevel,
    logRatio: Math.log(Math.min(after.recovery, longestTimed) / before.recovery),
    loss: after.holdLoss(seconds),
  };
}

/** The likeliest cause to one who knows every law by which the visits were invented. */
function informedCause(ways: readonly Shown[], input: DiagnosisInput): SignedCause {
  const vacuum = Math.hypot(visitErrors.reading, visitErrors.baseline);
  const ratio = Math.hypot(visitErrors.recovery, visitErrors.recoveryBaseline);
  const hold = Math.hypot(visitErrors.hold, 0.1 / Math.sqrt(12));
  const logRatio = Math.log(input.recovery! / input.recoveryBaseline!);
  const sums = new Map<SignedCause, number>();
  for (const way of ways) {
    const square =
      ((inPsi(input.idleDrop) - way.idle) / vacuum) ** 2 +
      ((inPsi(input.lowestDrop) - way.lowest) / vacuum) ** 2 +
      ((logRatio - way.logRatio) / ratio) ** 2 +
      // Ways are drawn, not dense: a large loss is met within 2%.
      ((inPsi(input.holdLoss) - way.loss) / (hold + 0.02 * way.loss)) ** 2;
    const share = oilShare(way.cause);
    const density =
      (Math.exp(-square / 2) / (hold + 0.02 * way.loss)) *
      (input.line === 'film' ? share : 1 - share);
    sums.set(way.cause, (sums.get(way.cause) ?? 0) + density);
  }
  return signedCauses.reduce((best, cause) => (sums.get(cause)! > sums.get(best)! ? cause : best));
}

/** Probable cause by the library beside the best that the same measurements allow. */
export function benchCause(): void {
  console.log('balanced accuracy, and recall of the belt');
  for (const seconds of [60, 300]) {
    const random = randomFrom(31);
    const ways = signedCauses.flatMap((cause) =>
      Array.from({ length: drawn }, () => showing(random, cause, seconds)),
    );
    const hits = { alone: 0, 'with the visit before': 0, 'all known, alone': 0 };
    const belts = { ...hits };
    for (const cause of signedCauses)
      for (let k = 0; k < each; k++) {
        const severity = random.uniform();
        const severities = [severity * (0.4 + 0.6 * random.uniform()), severity];
        const [before, now] = simulatedVisits(random, cause, severities, seconds) as [
          DiagnosisInput,
          DiagnosisInput,
        ];
        const said = {
          alone: diagnose(now).said,
          'with the visit before': diagnose(now, before).said,
          'all known, alone': informedCause(ways, now),
        };
        for (const by of Object.keys(hits) as (keyof typeof hits)[]) {
          if (said[by] !== cause) continue;
          hits[by]++;
          if (cause === 'slipping belt') belts[by]++;
        }
      }
    for (const by of Object.keys(hits) as (keyof typeof hits)[])
      console.log(
        `hold of ${seconds} s, ${by}`.padEnd(38),
        (hits[by] / each / signedCauses.length).toFixed(3),
        (belts[by] / each).toFixed(2),
      );
  }
}
