import { boardOf, costOfPlan } from '@/lib/planning/plan-board';
import type { PlanGrid } from '@/lib/planning/plan-grid';
import { planMoves } from '@/lib/planning/plan-moves';

export interface Cooling {
  readonly moves: number;
  readonly seed: number;
  /** Temperature at the first and at the last move, in the plan's cost. */
  readonly hot: number;
  readonly cold: number;
}

export const defaultCooling: Cooling = { moves: 8_000_000, seed: 1, hot: 10, cold: 0.1 };

const blockOfMoves = 1024;

/** −ln u over the unit interval: a move that costs Δ is taken when Δ < T × the drawn entry. */
const patience = Float64Array.from({ length: 4096 }, (_, at) => -Math.log((at + 0.5) / 4096));

/**
 * Simulated annealing of a plan (Kirkpatrick, Gelatt and Vecchi 1983): geometric cooling over a
 * fixed number of moves, so the same seed gives the same plan on every machine. A move exchanges two
 * jobs or two whole visits, sends one elsewhere, or joins a job to its unit's other work; exchanges
 * are three in four, since a full week gives way to nothing else. No step overfills.
 */
export function annealPlan(grid: PlanGrid, start: Int32Array, cooling: Cooling): Int32Array {
  const { unitOf, jobsOfUnit, choices } = grid;
  const board = boardOf(grid, start);
  const { slotOf } = board;
  const free = Int32Array.from(choices.keys()).filter((job) => choices[job]!.length > 1);
  const best = Int32Array.from(slotOf);
  if (free.length === 0) return best;

  const { jobs } = grid.input;
  const partners = new Map(
    grid.input.sheds.map(({ id }) => [id, free.filter((job) => jobs[job]!.shedId === id)]),
  );
  const partnersOf = jobs.map(({ shedId }) => partners.get(shedId) ?? free);
  let state = Math.imul(cooling.seed, 0x9e3779b1) ^ 0x2545f491 || 1;
  const draw = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state >>> 0;
  };
  const below = (bound: number): number => Math.floor((draw() / 4_294_967_296) * bound);

  let temperature = cooling.hot;
  const accepts = (delta: number): boolean =>
    delta <= 0 || delta < temperature * patience[draw() & 4095]!;

  const { move, exchange } = planMoves(grid, board, accepts);
  let current = costOfPlan(grid, slotOf);
  let least = current;
  const blocks = Math.ceil(cooling.moves / blockOfMoves);
  const factor = (cooling.cold / cooling.hot) ** (1 / Math.max(1, blocks - 1));
  for (let block = 0; block < blocks; block++) {
    for (let left = blockOfMoves; left > 0; left--) {
      const job = free[below(free.length)]!;
      const kind = draw() & 31;
      if (kind < 24) {
        const shed = partnersOf[job]!;
        current += exchange(job, shed[below(shed.length)]!, kind < 12);
      } else if (kind < 26) {
        const siblings = jobsOfUnit[unitOf[job]!]!;
        current += move(job, slotOf[siblings[below(siblings.length)]!]!, false);
      } else {
        const open = choices[job]!;
        current += move(job, open[below(open.length)]!, kind < 30);
      }
    }
    if (current < least - 1e-9) {
      least = current;
      best.set(slotOf);
    }
    temperature *= factor;
  }
  return best;
}
