import type { TraceRefusal, TraceRefusalRule, TraceSample } from '@/lib/analysis/trace';
import { seaLevelPressure } from '@/lib/atmosphere';
import { fromKilopascals, type Kilopascals, type Seconds, toKilopascals } from '@/lib/measure';
import { failure, type Result, success } from '@/lib/result';
import { median, medianAbsoluteDeviation } from '@/lib/statistics/median';

/** A trace fit to be analysed: rising even times, a plausible unit, single spikes taken out. */
export interface ScreenedTrace {
  readonly times: readonly Seconds[];
  readonly vacuum: readonly Kilopascals[];
  readonly interval: Seconds;
  readonly sampleRate: number;
  readonly noise: Kilopascals;
}

const shortest: Seconds = 15;
const slowestHertz = 4;
/** Above it the presses can no longer be told from noise, unless many samples are averaged. */
const noisiest = toKilopascals(0.2, 'psi');
const fastHertz = 20;
/** Room for the error of the estimate itself, so that a gauge at the limit is not refused by chance. */
const estimateMargin = 1.1;
const spikeDeviations = 6;
/** No running pump idles below this; a gauge in psi read as kPa always does. */
const leastIdle = toKilopascals(2.2, 'psi');

const refuse = (rule: TraceRefusalRule, message: string, mend: string) =>
  failure<TraceRefusal>({ rule, message, mend });

/**
 * Checks a logging gauge's samples before anything is read from them, and estimates the noise of one
 * sample as 1.4826 MAD of the differences of neighbours / sqrt 2, which steps and slow recovery do not
 * disturb. Vacuum in kPa below ambient, positive downward; times in seconds.
 * Thin or bad data: a named refusal that says what to do.
 *
 * @example screenTrace of 5 s of samples is refused as `too short`
 */
export function screenTrace(
  samples: readonly TraceSample[],
  ambient: Kilopascals = seaLevelPressure,
): Result<ScreenedTrace, TraceRefusal> {
  if (samples.some(({ t, vacuum }) => !Number.isFinite(t) || !Number.isFinite(vacuum)))
    return refuse(
      'not a number',
      'The trace holds a time or a pressure that is not a number.',
      'Export the trace from the gauge again.',
    );
  const times = samples.map(({ t }) => t);
  const first = times[0];
  const last = times.at(-1);
  if (first === undefined || last === undefined || samples.length < 2 || last - first < shortest)
    return refuse(
      'too short',
      `The trace lasts less than ${shortest} s.`,
      'Log from idle, through four presses, until the vacuum is back; or choose the unit of its times.',
    );
  const gaps = times.slice(1).map((t, index) => t - times[index]!);
  if (gaps.some((gap) => gap <= 0))
    return refuse(
      'time not rising',
      'The times of the trace do not rise from line to line.',
      'Check which column holds the time, and export the trace again.',
    );
  const interval = median(gaps)!;
  const sampleRate = 1 / interval;
  if (sampleRate < slowestHertz)
    return refuse(
      'too slow',
      `The gauge logged ${sampleRate.toFixed(1)} samples a second; presses need at least ${slowestHertz}.`,
      'Choose the unit of its times, or set the gauge to 10 samples a second and log again.',
    );
  if (gaps.some((gap) => gap > Math.max(1, 4 * interval)))
    return refuse(
      'irregular',
      'The gauge stopped logging for a while.',
      'Log the test again in one piece.',
    );

  const vacuum = samples.map((sample) => sample.vacuum);
  const most = vacuum.reduce((a, b) => Math.max(a, b));
  if (most > 1.02 * ambient)
    return refuse(
      'wrong unit',
      `The trace reaches ${most.toFixed(1)} kPa below ambient, more than the air pressure there.`,
      'Choose the unit that the gauge logged in.',
    );
  if (most < leastIdle)
    return refuse(
      'wrong unit',
      `The trace never exceeds ${most.toFixed(1)} kPa: less than any running pump, but usual for a gauge in psi.`,
      'Choose the unit that the gauge logged in. If the vacuum truly is this low, key the reading by hand.',
    );

  const noise = noiseOf(vacuum);
  if (noise > noisiest * estimateMargin && sampleRate < fastHertz * 0.99)
    return refuse(
      'too noisy',
      `The trace is noisy: ${fromKilopascals(noise, 'psi').toFixed(2)} psi a sample, and at most 0.20 psi can be read below ${fastHertz} samples a second.`,
      'Fit a snubber or a shorter hose, or set the gauge to 20 samples a second or more, and log again.',
    );
  return success({ times, vacuum: withoutSpikes(vacuum, noise), interval, sampleRate, noise });
}

function noiseOf(vacuum: readonly number[]): number {
  const differences = vacuum.slice(1).map((value, index) => value - vacuum[index]!);
  return medianAbsoluteDeviation(differences)! / Math.SQRT2;
}

/** Hampel's filter over five samples: leaves steps and slopes alone. */
function withoutSpikes(vacuum: readonly number[], noise: number): number[] {
  return vacuum.map((value, index) => {
    if (index < 2 || index > vacuum.length - 3) return value;
    const middle = median(vacuum.slice(index - 2, index + 3))!;
    return Math.abs(value - middle) > spikeDeviations * Math.max(noise, 0.05) ? middle : value;
  });
}
