import pino from 'pino';
import { sqlState } from './transaction';

/** What is said of an error: enough to find it, nothing of what it was about. */
export interface ToldFault {
  readonly name: string;
  readonly message: string;
  readonly code: string | undefined;
  readonly constraint: string | undefined;
  readonly frames: readonly string[];
}

/** Databases and parsers quote the values that they stumbled over: quotes and addresses are masked. */
const masked = (text: string): string =>
  text
    .replaceAll(/(["'`])(?:(?!\1).)*\1/gs, '…')
    .replaceAll(/\S+@\S+/g, '…')
    .slice(0, 300);

/** A failed query's own message holds its parameters; the cause within it does not. */
const inmostOf = (error: unknown): unknown =>
  error instanceof Error && error.cause instanceof Error ? inmostOf(error.cause) : error;

export function toldFault(error: unknown): ToldFault {
  const inmost = inmostOf(error);
  const isError = inmost instanceof Error;
  const frames = error instanceof Error ? (error.stack ?? '').split('\n') : [];
  return {
    name: isError ? inmost.name : typeof inmost,
    message: isError ? masked(inmost.message) : '',
    code: sqlState(inmost),
    constraint:
      isError && 'constraint' in inmost && typeof inmost.constraint === 'string'
        ? inmost.constraint
        : undefined,
    frames: frames.filter((line) => /^\s+at /.test(line)).map((line) => line.trim()),
  };
}

export const logLevels = ['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent'] as const;

const asked = logLevels.find((level) => level === process.env.IDLEMARK_LOG_LEVEL);

/** JSON lines on standard output. Callers give constants and counts, never names, notes or VINs. */
export const log = pino({
  level: asked ?? 'info',
  base: { pid: process.pid },
  timestamp: pino.stdTimeFunctions.isoTime,
  formatters: { level: (label) => ({ level: label }) },
  serializers: { err: toldFault },
});
