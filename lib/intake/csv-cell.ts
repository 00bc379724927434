import { dayFromIso } from '@/lib/calendar';
import type { CsvRow } from '@/lib/intake/csv-columns';
import { keyedNumber } from '@/lib/intake/keyed-number';
import type { DayNumber } from '@/lib/measure';
import type { Problem } from '@/lib/result';

/** Control characters, lone surrogates and marks that reorder text. */
const notPlain = /[\p{Cc}\p{Cs}\u202A-\u202E\u2066-\u2069]/u;
/** Most names; told apart quickly. */
const plainAscii = /^[ -~]*$/;
const longestName = 40;
const firstDay = dayFromIso('1980-01-01') as DayNumber;
const lastDay = dayFromIso('2100-12-31') as DayNumber;

/** Takes the cells of one row, and keeps what is wrong with them. An empty cell is null. */
export class CellReader {
  readonly problems: Problem[] = [];

  constructor(
    protected readonly row: CsvRow,
    readonly line: number,
  ) {}

  problem(field: string, message: string, mend: string, value = this.row(field)): null {
    this.problems.push({ field, line: this.line, value: shown(value), message, mend });
    return null;
  }

  /** Text that can be shown as it is. */
  name(column: string): string | null {
    const text = this.row(column);
    if (text === '') return null;
    if (text.length > longestName || (!plainAscii.test(text) && notPlain.test(text))) {
      return this.problem(
        column,
        'It holds characters that cannot be shown, or too many.',
        `Write plain text of at most ${longestName} characters.`,
      );
    }
    return text;
  }

  requiredName(column: string): string {
    const name = this.name(column);
    if (name === null && this.row(column) === '')
      this.problem(column, 'It is empty.', 'Fill it in.');
    return name ?? '';
  }

  /** `text` where the cell is not written as a person would key it. */
  number(column: string, text = this.row(column)): number | null {
    if (text === '') return null;
    const parsed = keyedNumber(text, column, this.line);
    if (parsed.ok) return parsed.value;
    this.problems.push({ ...parsed.error, value: shown(this.row(column)) });
    return null;
  }

  isDay(text: string): boolean {
    const day = dayFromIso(text);
    return day !== null && day >= firstDay && day <= lastDay;
  }

  day(column: string): DayNumber | null {
    const text = this.row(column);
    if (text === '') return null;
    const day = dayFromIso(text);
    if (day !== null && day >= firstDay && day <= lastDay) return day;
    return this.problem(
      column,
      'It is no day of the calendar between 1980 and 2100.',
      'Write year-month-day, for example 2026-06-30.',
    );
  }

  requiredDay(column: string): DayNumber {
    if (this.row(column) === '') {
      this.problem(column, 'It is empty.', 'Write year-month-day, for example 2026-06-30.');
    }
    return this.day(column) ?? 0;
  }

  /** One of a few words, in any letter case; null when empty. */
  word<Word extends string>(column: string, words: readonly Word[]): Word | null {
    const text = this.row(column).toLowerCase();
    if (text === '') return null;
    const word = words.find((each) => each.toLowerCase() === text);
    return (
      word ??
      this.problem(column, 'It is not one of the words known here.', `Write ${listed(words)}.`)
    );
  }
}

/** A value as a message can show it: short, and without characters that hide or reorder. */
const shown = (text: string): string =>
  text.slice(0, longestName).replaceAll(new RegExp(notPlain, 'gu'), '\uFFFD');

const listed = (words: readonly string[]): string =>
  words.length > 1 ? `${words.slice(0, -1).join(', ')} or ${words.at(-1)}` : (words[0] ?? '');
