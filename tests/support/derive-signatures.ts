import { fileURLToPath } from 'node:url';
import type { Signature } from '@/lib/analysis/diagnose-signatures';
import { toKilopascals } from '@/lib/measure';
import { idlePressure, type PumpSystem, soundSystem, visit } from './pump-model';

/**
 * Signatures of the causes as the lumped model gives them, one for each of several severities spread
 * evenly from just noticeable to worst (own assumptions, no fleet data):
 * pump: idle falls 0.5 to 5.5 psi, by clearance or by leaking back, equally often;
 * leak: 0.006 to 0.15 of the orifice scale, evenly in its logarithm; check valve: 0.0015 to 0.012;
 * restricted line: 20 to 60% of the bore lost, conductance as its fourth power (Hagen-Poiseuille);
 * slipping belt: 25 to 98% of the pump's sweep lost.
 * `npx tsx tests/support/derive-signatures.ts` prints the table that the library keeps.
 */
export function faultyAt(
  cause: Exclude<Signature['cause'], 'none shown'>,
  severity: number,
  byClearance: boolean,
  sound: PumpSystem = soundSystem,
): PumpSystem {
  const evenly = (from: number, to: number) => from + severity * (to - from);
  const evenlyInLog = (from: number, to: number) => from * (to / from) ** severity;
  switch (cause) {
    case 'pump':
      return wornPump(sound, evenly(0.5, 5.5), byClearance);
    case 'leak':
      return { ...sound, boosterLeak: evenlyInLog(0.006, 0.15) };
    case 'check valve':
      return { ...sound, valveLeak: evenlyInLog(0.0015, 0.012) };
    case 'restricted line':
      return { ...sound, lineConductance: sound.lineConductance * (1 - evenly(0.2, 0.6)) ** 4 };
    case 'slipping belt':
      return { ...sound, sweep: sound.sweep * (1 - evenly(0.25, 0.98)) };
  }
}

function wornPump(sound: PumpSystem, idleLost: number, byClearance: boolean): PumpSystem {
  const target = idlePressure(sound) + idleLost;
  const worn = (amount: number) =>
    byClearance
      ? { ...sound, clearance: sound.clearance + amount }
      : { ...sound, backLeak: sound.backLeak + amount };
  let low = 0;
  let high = 2;
  for (let step = 0; step < 20; step++) {
    const middle = (low + high) / 2;
    if (idlePressure(worn(middle)) < target) low = middle;
    else high = middle;
  }
  return worn(high);
}

const nodes = [
  ['pump', 10, true],
  ['pump', 10, false],
  ['leak', 14, false],
  ['check valve', 10, false],
  ['restricted line', 10, false],
  ['slipping belt', 12, false],
] as const;

export function deriveSignatures(): Signature[] {
  const sound = visit(soundSystem);
  const round = (value: number) => Math.round(value * 100) / 100;
  const signature = (cause: Signature['cause'], system: PumpSystem): Signature => {
    const faulty = visit(system);
    return {
      cause,
      idleDrop: round(toKilopascals(sound.idle - faulty.idle, 'psi')),
      lowestDrop: round(toKilopascals(sound.lowest - faulty.lowest, 'psi')),
      recoveryRatio: round(faulty.recovery / sound.recovery),
      loss60: round(toKilopascals(faulty.holdLoss(60), 'psi')),
      loss300: round(toKilopascals(faulty.holdLoss(300), 'psi')),
      raisedDifference: round(toKilopascals(faulty.raised - faulty.idle, 'psi')),
    };
  };
  return [
    signature('none shown', soundSystem),
    ...nodes.flatMap(([cause, count, byClearance]) =>
      Array.from({ length: count }, (_, node) =>
        signature(cause, faultyAt(cause, (node + 0.5) / count, byClearance)),
      ),
    ),
  ];
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  for (const s of deriveSignatures())
    console.log(
      `  ['${s.cause}', ${s.idleDrop}, ${s.lowestDrop}, ${s.recoveryRatio}, ${s.loss60}, ${s.loss300}, ${s.raisedDifference}],`,
    );
