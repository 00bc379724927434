import { randomUUID } from 'node:crypto';
import { subscribe, unsubscribe } from 'node:diagnostics_channel';
import type { IncomingMessage, Server, ServerResponse } from 'node:http';

export interface Answered {
  readonly requestId: string;
  readonly method: string;
  readonly route: string;
  readonly status: number;
  readonly ms: number;
}

/** Set here and nowhere else on requests that came from this machine without a proxy between. */
export const fromHereHeader = 'x-idlemark-from-here';

const started = 'http.server.request.start';
const finished = 'http.server.response.finish';
const loopback = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);
const proxied = ['x-forwarded-for', 'x-forwarded-host', 'forwarded', 'via', 'x-real-ip'];

/**
 * The address without what it names: numbers of units, tokens and searched words stay out of logs.
 * Of one that is not found only the known beginning counts, since anybody can invent the rest.
 */
export function routeOf(url: string, status = 200): string {
  if (status === 404)
    return /^\/api\/v1\/(?:readings|units|calendar)\b/.exec(url)?.[0] ?? 'not found';
  return (url.split(/[?#]/)[0] ?? '')
    .split('/')
    .map((part) => (/^(?:[a-z][a-z.-]{0,23}|v1|)$/.test(part) ? part : ':id'))
    .join('/');
}

/** A caller's own id is kept where it is a plain one; a long or odd one could smuggle lines and names. */
const idOf = (sent: string | string[] | undefined): string =>
  typeof sent === 'string' && /^[\w-]{8,64}$/.test(sent) ? sent : randomUUID();

interface Watch {
  readonly stop: () => void;
  /** Takes no new connection, and waits until what is under way is answered; gives how many are not. */
  readonly drain: (atMostMs: number) => Promise<number>;
}

/**
 * Gives every request of this process an id, on its way in and on its answer, and tells of each
 * answer but those of built files. Node's own channel: no page or route can forget it.
 */
export function watchRequests(tell: (answered: Answered) => void): Watch {
  const since = new WeakMap<object, number>();
  const servers = new Set<Server>();
  const underWay = new Set<ServerResponse>();
  let onNone = (): void => {};
  const begin = (message: unknown): void => {
    const { request, response, server } = message as {
      request: IncomingMessage;
      response: ServerResponse;
      server: Server;
    };
    since.set(request, performance.now());
    servers.add(server);
    underWay.add(response);
    // Sent whole or given up by the caller.
    response.once('close', () => {
      underWay.delete(response);
      if (underWay.size === 0) onNone();
    });
    const isFromHere =
      loopback.has(request.socket.remoteAddress ?? '') &&
      proxied.every((name) => request.headers[name] === undefined);
    delete request.headers[fromHereHeader];
    if (isFromHere) request.headers[fromHereHeader] = '1';
    const requestId = idOf(request.headers['x-request-id']);
    request.headers['x-request-id'] = requestId;
    response.setHeader('x-request-id', requestId);
  };
  const end = (message: unknown): void => {
    const { request, response } = message as {
      request: IncomingMessage;
      response: ServerResponse;
    };
    const from = since.get(request);
    const url = request.url ?? '';
    if (from === undefined || url.startsWith('/_next/')) return;
    tell({
      requestId: String(request.headers['x-request-id']),
      method: request.method ?? '',
      route: routeOf(url, response.statusCode),
      status: response.statusCode,
      ms: Math.round((performance.now() - from) * 10) / 10,
    });
  };
  subscribe(started, begin);
  subscribe(finished, end);
  return {
    stop: () => {
      unsubscribe(started, begin);
      unsubscribe(finished, end);
    },
    drain: async (atMostMs) => {
      for (const server of servers) server.close();
      if (underWay.size > 0) {
        await new Promise<void>((resolve) => {
          onNone = resolve;
          setTimeout(resolve, atMostMs).unref();
        });
      }
      return underWay.size;
    },
  };
}
