import type { NextConfig } from 'next';

const config: NextConfig = {
  serverExternalPackages: [
    '@electric-sql/pglite',
    'highs',
    'pdfkit',
    'pg',
    'pg-boss',
    'pino',
    'prom-client',
  ],
  poweredByHeader: false,
  reactStrictMode: true,
  agentRules: false,
  experimental: { authInterrupts: true },
  // Types of the whole tree are checked by `npm run typecheck`, not a second time by the build.
  typescript: { ignoreBuildErrors: true },
};

export default config;
