import type { BeltState, LineState, PedalState } from '@/lib/analysis/reading';
import type { Key } from '@/lib/bay-card/apply-key';
import type { Concern } from '@/lib/bay-card/concern';
import type { CouldNotField, CouldNotReason, Step } from '@/lib/bay-card/draft';
import type { FilledByTrace } from '@/lib/bay-card/filled-by-trace';
import type { Moment } from '@/lib/bay-card/watch';
import type { PressureUnit } from '@/lib/measure';

/** One touch of the card, as far as the draft is concerned. */
export type DraftAction =
  | { readonly type: 'take cautions' }
  | { readonly type: 'fit gauge'; readonly gaugeId: string | null }
  | { readonly type: 'choose gauge'; readonly gaugeId: string | null; readonly unit: PressureUnit }
  | { readonly type: 'see line'; readonly line: LineState }
  | { readonly type: 'feel pedal'; readonly pedal: PedalState }
  | { readonly type: 'see belt'; readonly belt: BeltState }
  | { readonly type: 'key'; readonly key: Key; readonly at: Moment }
  /** Next, with what is odd about the value just keyed. */
  | { readonly type: 'next'; readonly concerns: readonly Concern[] }
  | { readonly type: 'answer'; readonly choice: string }
  | { readonly type: 'start watch'; readonly at: Moment }
  | { readonly type: 'stop watch'; readonly at: Moment }
  | { readonly type: 'fill from trace'; readonly filled: FilledByTrace }
  | { readonly type: 'hide page' }
  | { readonly type: 'could not'; readonly field: CouldNotField }
  | { readonly type: 'give reason'; readonly reason: CouldNotReason }
  | { readonly type: 'refit'; readonly isPedalNormal: boolean }
  | { readonly type: 'go to'; readonly step: Step }
  | { readonly type: 'go back' };
