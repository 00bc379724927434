/** A step of a job card: what to do, a value with its unit of measure, a caution. */
export interface StepLine {
  readonly text: string;
  readonly value?: string;
  readonly caution?: string;
}

/**
 * Steps as a person edits them: a line each, what to do, then a value and a caution after bars. Empty
 * lines are dropped.
 *
 * @example stepsOfLines('Fit the bolts | 18 lb-ft | Hot') is one step with a value and a caution
 */
export const stepsOfLines = (lines: string): StepLine[] =>
  lines
    .split('\n')
    .map((line) => line.split('|').map((part) => part.trim()))
    .flatMap(([text = '', value = '', caution = '']) =>
      text === '' ? [] : [{ text, ...(value && { value }), ...(caution && { caution }) }],
    );

/** The way back: `linesOfSteps(stepsOfLines(lines))` says the same. */
export const linesOfSteps = (steps: readonly StepLine[]): string =>
  steps
    .map(({ text, value, caution }) =>
      [text, value ?? (caution ? '' : undefined), caution]
        .filter((part) => part !== undefined)
        .join(' | '),
    )
    .join('\n');
