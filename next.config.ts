import type { NextConfig } from 'next';

const config: NextConfig = {
  serverExternalPackages: ['@electric-sql/pglite', 'pg', 'pdfkit', 'highs', 'pino'],
  poweredByHeader: false,
  reactStrictMode: true,
  agentRules: false,
};

export default config;
