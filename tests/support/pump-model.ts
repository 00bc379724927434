/**
 * Lumped model of an engine-driven vacuum pump, its line, check valve and booster: the simulator that
 * traces and causes are tested against. Working unit psi absolute, litres, seconds.
 *
 * pump    Q = S eta p1 - Gb (pa - p1), eta = 1 + c - c (pa / p1)^(1/n)   (positive-displacement pump
 *         with clearance volume; Gb is what leaks back through it)
 * line    Q = 4 K (p2 - p1 - 0.1) (p2 + p1) / 2 / 14.7, forward only     (0.1 psi opens the check valve)
 * leak    Gl pa psi(p2 / pa), psi the isentropic orifice function scaled to 1 when choked
 * valve   Gcv (p1 - p2) backward, with the engine off
 * press   p2 <- (V2 p2 + Vw pa) / (V2 + Vw)
 *
 * The constants are assumptions about a sound system, not measurements of one.
 */
export interface PumpSystem {
  /** Swept volume, litres a second at idle. */
  readonly sweep: number;
  readonly clearance: number;
  readonly polytropic: number;
  readonly backLeak: number;
  readonly lineConductance: number;
  readonly boosterLeak: number;
  readonly valveLeak: number;
  readonly boosterVolume: number;
  readonly pressVolume: number;
  /** Ambient pressure. */
  readonly ambient: number;
}

export const soundSystem: PumpSystem = {
  sweep: 1.5,
  clearance: 0.125,
  polytropic: 1.2,
  backLeak: 0.006,
  lineConductance: 3,
  boosterLeak: 0,
  valveLeak: 0.0003,
  boosterVolume: 5,
  pressVolume: 0.55,
  ambient: 14.696,
};

const pumped = (s: PumpSystem, p1: number) => {
  const efficiency = 1 + s.clearance - s.clearance * (s.ambient / p1) ** (1 / s.polytropic);
  return s.sweep * efficiency * p1 - s.backLeak * (s.ambient - p1);
};

const throughLine = (s: PumpSystem, p1: number, p2: number) =>
  Math.max(0, (4 * s.lineConductance * (p2 - p1 - 0.1) * (p2 + p1)) / 2 / 14.7);

/** Flow from the booster with the pump running: the pressure between pump and valve settles at once. */
function drawn(s: PumpSystem, p2: number): number {
  let low = 1e-3;
  let high = s.ambient;
  for (let step = 0; step < 26; step++) {
    const middle = (low + high) / 2;
    if (pumped(s, middle) < throughLine(s, middle, p2)) low = middle;
    else high = middle;
  }
  return throughLine(s, high, p2);
}

function leaked(s: PumpSystem, p2: number): number {
  if (s.boosterLeak === 0) return 0;
  const ratio = Math.min(1, p2 / s.ambient);
  const gamma = 1.4;
  const critical = (2 / (gamma + 1)) ** (gamma / (gamma - 1));
  const r = Math.max(ratio, critical);
  const flow = (x: number) => Math.sqrt(Math.max(0, x ** (2 / gamma) - x ** ((gamma + 1) / gamma)));
  return (s.boosterLeak * s.ambient * flow(r)) / flow(critical);
}

/** One Heun step of the booster's pressure. */
function advance(s: PumpSystem, p2: number, dt: number, running: boolean): number {
  const slope = (p: number) =>
    (leaked(s, p) + (running ? -drawn(s, p) : s.valveLeak * (s.ambient - p))) / s.boosterVolume;
  const first = slope(p2);
  return p2 + (dt / 2) * (first + slope(p2 + dt * first));
}

/** Booster pressure, absolute, once the engine has idled for long. */
export function idlePressure(s: PumpSystem): number {
  let low = 1e-3;
  let high = s.ambient;
  for (let step = 0; step < 30; step++) {
    const middle = (low + high) / 2;
    if (drawn(s, middle) < Math.max(leaked(s, middle), 1e-9)) low = middle;
    else high = middle;
  }
  return high;
}

export const pressed = (s: PumpSystem, p2: number): number =>
  (s.boosterVolume * p2 + s.pressVolume * s.ambient) / (s.boosterVolume + s.pressVolume);

export interface Visit {
  /** Vacuum, psi below ambient, and seconds. */
  readonly idle: number;
  readonly raised: number;
  readonly lowest: number;
  readonly recovery: number;
  readonly holdLoss: (seconds: number) => number;
}

/** Longer than anybody waits. */
const longestRecovery = 60;

/** What a visit would read without error: four presses a second apart, then a hold. */
export function visit(s: PumpSystem, raisedSpeed = 1.8): Visit {
  const start = idlePressure(s);
  const dt = 0.1;
  let p2 = start;
  for (let press = 0; press < 4; press++) {
    p2 = pressed(s, p2);
    if (press < 3) for (let t = 0; t < 1.3 - dt / 2; t += dt) p2 = advance(s, p2, dt, true);
  }
  const lowest = s.ambient - p2;
  let recovery = 0;
  while (p2 > start + 0.5 && recovery < longestRecovery) {
    p2 = advance(s, p2, dt, true);
    recovery += dt;
  }
  return {
    idle: s.ambient - start,
    raised: s.ambient - idlePressure({ ...s, sweep: s.sweep * raisedSpeed }),
    lowest,
    recovery,
    holdLoss: (seconds) => {
      let p = start;
      const step = Math.min(1, seconds / 20);
      for (let t = 0; t < seconds - step / 2; t += step) p = advance(s, p, step, false);
      return p - start;
    },
  };
}

export interface TracePlan {
  readonly hertz: number;
  /** Standard deviation of one sample. */
  readonly noise: number;
  readonly presses: number;
  readonly firstPress: number;
  readonly interval: number;
  /** From the last release to the key being turned off. */
  readonly recover: number;
  readonly hold: number;
}

export interface SimulatedTrace {
  readonly samples: { t: number; psi: number }[];
  readonly truth: {
    readonly idle: number;
    readonly lowest: number;
    readonly presses: readonly number[];
    readonly keyOff: number;
    readonly loss60: number;
    /** Noiseless recovery after the last release, for a reference fit. */
    readonly recovery: readonly { t: number; psi: number }[];
  };
}

/** `normal` draws a standard normal deviate. Samples are rounded to 0.02 psi as a gauge writes them. */
export function simulateTrace(
  s: PumpSystem,
  plan: TracePlan,
  normal: () => number,
): SimulatedTrace {
  const start = idlePressure(s);
  const presses = Array.from(
    { length: plan.presses },
    (_, press) => plan.firstPress + press * plan.interval,
  );
  const release = presses.at(-1)!;
  const keyOff = release + plan.recover;
  const end = keyOff + plan.hold;
  const samples: { t: number; psi: number }[] = [];
  const recovery: { t: number; psi: number }[] = [];
  let p2 = start;
  let now = 0;
  let lowest = s.ambient - start;
  let atKeyOff = start;
  let after60 = start;
  const events = [
    ...presses.map((t) => ({ t, kind: 'press' as const })),
    { t: keyOff, kind: 'key off' as const },
    { t: keyOff + 60, kind: 'after 60' as const },
    ...Array.from({ length: Math.floor(end * plan.hertz) + 1 }, (_, sample) => ({
      t: sample / plan.hertz,
      kind: 'sample' as const,
    })),
  ].sort((a, b) => a.t - b.t);
  for (const event of events) {
    if (event.t > now) p2 = advance(s, p2, event.t - now, now < keyOff);
    now = Math.max(now, event.t);
    if (event.kind === 'press') {
      p2 = pressed(s, p2);
      lowest = Math.min(lowest, s.ambient - p2);
    } else if (event.kind === 'key off') atKeyOff = p2;
    else if (event.kind === 'after 60') after60 = p2;
    else {
      const psi = s.ambient - p2;
      samples.push({ t: event.t, psi: Math.round((psi + plan.noise * normal()) / 0.02) * 0.02 });
      if (event.t >= release && event.t < keyOff) recovery.push({ t: event.t - release, psi });
    }
  }
  return {
    samples,
    truth: {
      idle: s.ambient - start,
      lowest,
      presses,
      keyOff,
      loss60: after60 - atKeyOff,
      recovery,
    },
  };
}
