/** A problem a person can mend: which field or line, what is wrong with it, and how to put it right. */
export interface Problem {
  readonly field: string;
  readonly line?: number;
  readonly value?: string;
  readonly message: string;
  readonly mend: string;
}

/** Expected failures travel as values; exceptions are for defects. */
export type Result<Value, Failure = readonly Problem[]> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly error: Failure };

export const success = <Value>(value: Value): { readonly ok: true; readonly value: Value } => ({
  ok: true,
  value,
});

export const failure = <Failure>(
  error: Failure,
): { readonly ok: false; readonly error: Failure } => ({
  ok: false,
  error,
});
