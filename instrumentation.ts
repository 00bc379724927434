import type { Instrumentation } from 'next';

export async function register(): Promise<void> {
  if (process.env.NEXT_RUNTIME === 'nodejs') await import('./app/_start');
}

/** What no page or route caught: told with the id that its answer bears. */
export const onRequestError: Instrumentation.onRequestError = async (error, request, context) => {
  if (process.env.NEXT_RUNTIME !== 'nodejs') return;
  const { log } = await import('./db/log');
  const requestId = request.headers['x-request-id'];
  log.error({ err: error, requestId, route: context.routePath }, 'a request failed');
};
