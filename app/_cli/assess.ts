import { writeFile } from 'node:fs/promises';
import { byNeed, fleetBeltRateOf, noiseOf, priorOf } from '@/lib/analysis/assess-fleet';
import { defaultLimits } from '@/lib/analysis/limits';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { DayNumber } from '@/lib/measure';
import {
  assessmentCells,
  assessmentHeader,
  assessmentLine,
  assessmentLineHeader,
} from '@/lib/outflow/assessment-columns';
import { assessmentRecord } from '@/lib/outflow/assessment-record';
import { csv } from '@/lib/outflow/csv';
import { textTable } from '@/lib/outflow/text-table';
import { type AssessOptions, assessOptions, usage } from './assess-options';
import { startThreads } from './judge-elsewhere';
import { type Judge, judgeTogether } from './judge-units';
import { UnusableFile } from './read-csv-file';
import { type FleetFiles, readFleetFiles } from './read-fleet-files';

export interface Terminal {
  readonly today: DayNumber;
  readonly out: (text: string) => void;
  readonly problem: (text: string) => void;
  /** Replaces the line last shown; does nothing where nobody watches. */
  readonly progress: (text: string) => void;
}

/** Judges a fleet from files; gives the exit code. */
export async function assess(args: readonly string[], terminal: Terminal): Promise<0 | 1 | 2> {
  const options = assessOptions(args, terminal.today);
  if (!options.ok) {
    terminal.problem(`${options.error}\n\n${usage}`);
    return 1;
  }
  if (options.value === 'help') {
    terminal.out(usage);
    return 0;
  }
  try {
    const { out } = options.value;
    const threads = startThreads();
    const fleet = await readFleetFiles(options.value, (rows) => {
      if (rows % 5_000 === 0) terminal.progress(`${rows.toLocaleString('en-US')} rows read`);
    });
    const text = inFormat(await judge(fleet, options.value, threads, terminal), options.value);
    terminal.progress('');
    if (out === null) terminal.out(text);
    else await written(out, text);
    return report(fleet, terminal);
  } catch (error) {
    if (!(error instanceof UnusableFile)) throw error;
    terminal.progress('');
    terminal.problem(`${error.message}\n`);
    return 1;
  }
}

async function judge(
  { units }: FleetFiles,
  { asOf, pressureUnit, isLearning }: AssessOptions,
  threads: readonly Judge[],
  terminal: Terminal,
): Promise<readonly UnitAssessment[]> {
  if (isLearning) terminal.progress('Learning the wear of this fleet');
  const prior = isLearning ? priorOf(units, asOf) : noiseOf(units, asOf);
  const fleetBeltRate = fleetBeltRateOf(units, asOf);
  const task = { units, limits: defaultLimits, prior, asOf, fleetBeltRate, pressureUnit };
  const judged = await judgeTogether(task, threads, (count) =>
    terminal.progress(`${Math.round((100 * count) / units.length)}% judged`),
  );
  return byNeed(judged);
}

function inFormat(
  judged: readonly UnitAssessment[],
  { format, pressureUnit }: AssessOptions,
): string {
  switch (format) {
    case 'json':
      return `${JSON.stringify(judged.map(assessmentRecord), null, 1)}\n`;
    case 'csv':
      return csv(
        assessmentHeader(pressureUnit),
        judged.map((assessed) => assessmentCells(assessed, pressureUnit)),
      );
    case 'table':
      return textTable(
        assessmentLineHeader(pressureUnit),
        judged.map((assessed) => assessmentLine(assessed, pressureUnit)),
      );
  }
}

async function written(path: string, text: string): Promise<void> {
  try {
    await writeFile(path, text);
  } catch (error) {
    throw new UnusableFile(`${path}: ${error instanceof Error ? error.message : String(error)}`);
  }
}

/** Names every refused row, then what looks odd in those that were judged. */
function report({ refused, odd, rows }: FleetFiles, terminal: Terminal): 0 | 2 {
  for (const { file, line, field, value, message, mend } of refused) {
    const held = value === undefined ? '' : ` "${value}"`;
    terminal.problem(`${file}, line ${line ?? '?'}, ${field}${held}: ${message} ${mend}\n`);
  }
  for (const { file, line, field, message } of odd) {
    terminal.problem(`${file}, line ${line}, ${field}: judged as written. ${message}\n`);
  }
  if (refused.length === 0) return 0;
  terminal.problem(
    `${refused.length} problems in ${rows} rows; rows with a problem were refused.\n`,
  );
  return 2;
}
