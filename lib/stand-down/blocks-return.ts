import type { OrderFacts, ProofReading, SpellFacts } from './spell-facts';
import {
  certificateStanding,
  type ProofStanding,
  proofStanding,
  type UnfitProof,
  unfinishedOrders,
  workFinishedAt,
} from './spell-standing';

/** One line of the list that stands between a unit and the road. */
export interface Block {
  readonly step: 'work' | 'bulletin' | 'proof' | 'certificate' | 'release';
  readonly what: string;
  readonly isDone: boolean;
  /** Who can take the step next. */
  readonly whoCanDoIt: string;
}

const proofReader = 'technician or safety officer, not the certifier';

function orderBlock(order: OrderFacts): Block {
  const { number, state, week, waitingFor, waitingUntil } = order;
  const words: Partial<Record<OrderFacts['state'], string>> = {
    raised: 'not placed in a week yet',
    placed: `placed in ${week}`,
    begun: 'begun, not finished',
    waiting: `waiting for ${waitingFor}${waitingUntil ? `, due ${waitingUntil}` : ''}`,
  };
  return {
    step: 'work',
    what: `Work order ${number}: ${words[state] ?? state}`,
    isDone: false,
    whoCanDoIt: state === 'raised' ? 'fleet manager, or technician to begin it' : 'technician',
  };
}

function workBlocks(facts: SpellFacts): Block[] {
  const unfinished = unfinishedOrders(facts);
  if (unfinished.length > 0) return unfinished.map(orderBlock);
  const finished = facts.orders.filter(({ finishedAt }) => finishedAt !== null).at(-1);
  if (finished && workFinishedAt(facts)) {
    return [
      {
        step: 'work',
        what: `Work order ${finished.number} finished`,
        isDone: true,
        whoCanDoIt: 'technician',
      },
    ];
  }
  const isNeedless = facts.certificate?.kind === 'repair not necessary';
  return [
    {
      step: 'work',
      what: isNeedless ? 'Repair not necessary' : 'No work order yet',
      isDone: isNeedless,
      whoCanDoIt: 'fleet manager or technician',
    },
  ];
}

const unfitWords: Record<UnfitProof, string> = {
  'read by the certifier': "Proof reading: by the certifier's own hand, another must read it",
  'read by the releaser': 'Proof reading: by the releaser, another must read it',
  'reader unknown': 'Proof reading: its reader is no person on record',
  'clock not accepted': "Proof reading: its device's clock was off, to be accepted or read again",
  'not complete': 'Proof reading: not complete',
};

const readOn = ({ readAt }: ProofReading): string => readAt.toISOString().slice(0, 10);

function proofWords(proof: ProofStanding): string {
  switch (proof.is) {
    case 'stands':
      return proof.readings.length > 1 ? 'Two sound readings' : 'Proof reading inside limits';
    case 'one more needed':
      return `Two sound readings: ${proof.readings.length} of 2`;
    case 'failed':
      return `Proof reading failed on ${readOn(proof.reading)}`;
    case 'not fit':
      return unfitWords[proof.why];
    case 'read before the repair was finished':
      return 'Proof reading: the last was read before the repair was finished';
    default:
      return 'Proof reading inside limits';
  }
}

/** Everything that blocks the unit's return, in the order in which it falls due. */
export function blocksReturn(facts: SpellFacts): readonly Block[] {
  const proof = proofStanding(facts);
  const certificate = certificateStanding(facts);
  const bulletins = facts.openBulletins.map(
    (number): Block => ({
      step: 'bulletin',
      what: `Bulletin ${number} done`,
      isDone: false,
      whoCanDoIt: 'technician',
    }),
  );
  return [
    ...workBlocks(facts),
    ...bulletins,
    {
      step: 'certificate',
      what: certificate.startsWith('void')
        ? `Repair certified: ${certificate}, certify again`
        : 'Repair certified',
      isDone: certificate === 'stands',
      whoCanDoIt: 'technician',
    },
    {
      step: 'proof',
      what: proofWords(proof),
      isDone: proof.is === 'stands',
      whoCanDoIt:
        proof.is === 'not fit' && proof.why === 'clock not accepted'
          ? 'safety officer'
          : proofReader,
    },
    {
      step: 'release',
      what: 'Release by safety officer',
      isDone: facts.releasedAt !== null,
      whoCanDoIt: 'safety officer who neither certified nor read the proof',
    },
  ];
}
