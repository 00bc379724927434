import 'server-only';
import { randomBytes } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { logLevels } from '@/db/log';

const text = z.string().trim().min(1);

const schema = z
  .object({
    DATABASE_URL: text
      .regex(/^postgres(ql)?:\/\//, 'must begin with postgres:// or postgresql://')
      .optional(),
    IDLEMARK_DATA: text.default('.data/database'),
    IDLEMARK_HEADS: text.optional(),
    IDLEMARK_SECRET: text.min(32, 'must have at least 32 characters').optional(),
    IDLEMARK_ORIGIN: z
      .url('must be the address that people open, such as https://brakes.example')
      .optional(),
    IDLEMARK_SMTP: text.regex(/^smtps?:\/\//, 'must begin with smtp:// or smtps://').optional(),
    IDLEMARK_MAIL_FROM: z.email('must be the address that mail is sent from').optional(),
    IDLEMARK_DEMO: z.enum(['1', '0']).default('0'),
    IDLEMARK_LOG_LEVEL: z.enum(logLevels).default('info'),
    IDLEMARK_METRICS_TOKEN: text.min(32, 'must have at least 32 characters').optional(),
    PORT: z.coerce.number().int().min(1).max(65_535).default(3000),
  })
  .refine((env) => !env.DATABASE_URL || env.IDLEMARK_SECRET, {
    path: ['IDLEMARK_SECRET'],
    message: 'is needed with DATABASE_URL: sessions of several instances are signed with it',
  })
  .refine((env) => !env.IDLEMARK_SMTP || env.IDLEMARK_MAIL_FROM, {
    path: ['IDLEMARK_MAIL_FROM'],
    message: 'is needed with IDLEMARK_SMTP: mail must come from somebody',
  });

export interface Environment {
  readonly databaseUrl: string | undefined;
  readonly dataFolder: string;
  /** Where the ledger's daily heads are kept; best on another machine than the database. */
  readonly headsFolder: string;
  readonly secret: string;
  readonly origin: string;
  /** Server that carries mail and the address it comes from; null where codes are handed over in person. */
  readonly mail: { readonly server: string; readonly from: string } | null;
  readonly isDemo: boolean;
  /** With it a collector on another machine may read the metrics. */
  readonly metricsToken: string | undefined;
}

/** A variable set to nothing is a variable not set. */
const withoutEmpty = (variables: NodeJS.ProcessEnv) =>
  Object.fromEntries(Object.entries(variables).filter(([, value]) => value !== ''));

let known: Environment | undefined;

/** Reads and checks the environment once; throws one message that names every fault. */
export function environment(): Environment {
  if (known) return known;
  const parsed = schema.safeParse(withoutEmpty(process.env));
  if (!parsed.success) {
    const faults = parsed.error.issues.map((issue) => `  ${issue.path.join('.')} ${issue.message}`);
    throw new Error(`The environment is not usable:\n${faults.join('\n')}`);
  }
  const env = parsed.data;
  known = {
    databaseUrl: env.DATABASE_URL,
    dataFolder: env.IDLEMARK_DATA,
    headsFolder: env.IDLEMARK_HEADS ?? join(dirname(env.IDLEMARK_DATA), 'heads'),
    secret: env.IDLEMARK_SECRET ?? secretBeside(env.IDLEMARK_DATA),
    origin: env.IDLEMARK_ORIGIN ?? `http://localhost:${env.PORT}`,
    mail:
      env.IDLEMARK_SMTP && env.IDLEMARK_MAIL_FROM
        ? { server: env.IDLEMARK_SMTP, from: env.IDLEMARK_MAIL_FROM }
        : null,
    isDemo: env.IDLEMARK_DEMO === '1',
    metricsToken: env.IDLEMARK_METRICS_TOKEN,
  };
  return known;
}

/** The embedded database is one process on one machine: its secret is made once and lies beside it. */
function secretBeside(folder: string): string {
  const path = `${folder.replace(/[\\/]$/, '')}.secret`;
  if (!existsSync(path)) {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, randomBytes(32).toString('base64url'), { mode: 0o600, flag: 'wx' });
  }
  return readFileSync(path, 'utf8');
}
