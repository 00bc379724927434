import 'server-only';
import { betterAuth } from 'better-auth';
import { drizzleAdapter } from 'better-auth/adapters/drizzle';
import { nextCookies } from 'better-auth/next-js';
import { database } from '@/db/handle';
import { actorOfPerson } from '@/db/reads/actor-of-person';
import { account, person, session, verification } from '@/db/schema';
import { environment } from './_environment';

const hour = 3_600;
export const absoluteSessionSeconds = 7 * 24 * hour;
const sessionCookie = '__Host-idlemark';

async function create() {
  const { db } = await database();
  const { secret, origin } = environment();
  return betterAuth({
    secret,
    baseURL: origin,
    trustedOrigins: [origin],
    telemetry: { enabled: false },
    database: drizzleAdapter(db, {
      provider: 'pg',
      schema: { person, session, account, verification },
      transaction: true,
    }),
    user: {
      modelName: 'person',
      additionalFields: {
        badge: { type: 'string', input: false, required: true },
        role: { type: 'string', input: false, required: true },
        isActive: { type: 'boolean', input: false },
      },
    },
    session: { expiresIn: 12 * hour, updateAge: hour },
    emailAndPassword: {
      enabled: true,
      disableSignUp: true,
      minPasswordLength: 12,
      maxPasswordLength: 128,
    },
    databaseHooks: {
      session: {
        // A barred person's password may still be right; it opens no session.
        create: { before: async ({ userId }) => (await actorOfPerson(db, userId)) !== null },
      },
    },
    advanced: {
      useSecureCookies: false,
      cookies: {
        session_token: {
          name: sessionCookie,
          attributes: { secure: true, httpOnly: true, sameSite: 'lax', path: '/' },
        },
      },
    },
    plugins: [nextCookies()],
  });
}

export type Auth = Awaited<ReturnType<typeof create>>;

const key = Symbol.for('idlemark.auth');
const store = globalThis as { [key]?: Promise<Auth> };

export function auth(): Promise<Auth> {
  store[key] ??= create().catch((error) => {
    store[key] = undefined;
    throw error;
  });
  return store[key];
}
