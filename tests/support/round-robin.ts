import { request as ask, createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

export interface RoundRobin {
  readonly origin: string;
  /** The ports behind it; a test adds and removes as instances come and go. */
  readonly ports: number[];
  stop(): Promise<void>;
}

/** A proxy that sends each request to the next instance, as a stand-in for a real one. */
export async function roundRobin(): Promise<RoundRobin> {
  const ports: number[] = [];
  let turn = 0;
  const server = createServer((request, response) => {
    const port = ports[turn++ % ports.length];
    const headers = { ...request.headers, 'x-forwarded-for': request.socket.remoteAddress };
    const { method, url: path } = request;
    const onward = ask({ host: '127.0.0.1', port, method, path, headers }, (answer) => {
      response.writeHead(answer.statusCode ?? 502, answer.headers);
      answer.pipe(response);
    });
    onward.once('error', () => response.writeHead(502).end());
    request.pipe(onward);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return {
    origin: `http://localhost:${port}`,
    ports,
    stop: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}
