import 'server-only';
import { betterAuth } from 'better-auth';
import { drizzleAdapter } from 'better-auth/adapters/drizzle';
import { nextCookies } from 'better-auth/next-js';
import { database } from '@/db/handle';
import { account, person, rateLimit, session, verification } from '@/db/schema';
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
    basePath: '/api/auth',
    trustedOrigins: [origin],
    telemetry: { enabled: false },
    database: drizzleAdapter(db, {
      provider: 'pg',
      schema: { person, session, account, verification, rateLimit },
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
    rateLimit: { enabled: true, storage: 'database', window: 60, max: 100 },
    advanced: {
      useSecureCookies: false,
      cookies: {
        session_token: {
          name: sessionCookie,
          attributes: { secure: true, httpOnly: true, sameSite: 'lax', path: '/' },
        },
      },
      ipAddress: { ipAddressHeaders: ['x-forwarded-for'] },
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
