/** Observations in order of entry; plain and typed arrays both serve. */
export type Samples = ArrayLike<number>;

/**
 * Columns of one table: equal lengths, finite numbers. Anything else is a defect of the caller, since
 * the database holds neither; the estimators can then promise never to return NaN.
 *
 * @throws RangeError on unequal lengths or a value that is not finite
 */
export function requireSamples(...columns: readonly Samples[]): void {
  const length = columns[0]?.length ?? 0;
  for (const column of columns) {
    if (column.length !== length) {
      throw new RangeError(`columns differ in length: ${length} and ${column.length}`);
    }
    for (let i = 0; i < length; i++) {
      if (!Number.isFinite(column[i])) throw new RangeError(`value ${i} is not a finite number`);
    }
  }
}

/** @throws RangeError unless 0 < confidence < 1 */
export function requireConfidence(confidence: number): void {
  if (!(confidence > 0 && confidence < 1)) {
    throw new RangeError(`confidence must lie between 0 and 1, not ${confidence}`);
  }
}

/** @throws RangeError unless 0 <= p <= 1 */
export function requireProbability(p: number): void {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a probability lies in 0 to 1, not ${p}`);
}

/** @throws RangeError unless every named parameter is finite and above zero */
export function requirePositive(parameters: Readonly<Record<string, number>>): void {
  for (const [name, value] of Object.entries(parameters)) {
    if (!(value > 0 && Number.isFinite(value))) {
      throw new RangeError(`${name} must be above zero, not ${value}`);
    }
  }
}
