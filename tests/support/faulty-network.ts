import { createServer, request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { randomFrom } from './random';

export const networkFaults = [
  'request lost',
  'answer lost',
  'answer cut short',
  'late',
  'sign-in page of the network',
] as const;
export type NetworkFault = (typeof networkFaults)[number];

export interface FaultyNetwork {
  readonly origin: string;
  readonly done: Record<NetworkFault, number>;
  close(): Promise<void>;
}

/**
 * Stands between a device and the product and spoils three requests of four, by chance from `seed`.
 * Late ones overtake one another, so that a device's tries arrive out of order.
 */
export async function faultyNetwork(target: string, seed: number): Promise<FaultyNetwork> {
  const { uniform } = randomFrom(seed);
  const { hostname, port, host } = new URL(target);
  const done = Object.fromEntries(
    networkFaults.map((fault) => [fault, 0]),
  ) as FaultyNetwork['done'];

  const server = createServer((asked, answer) => {
    const chance = Math.floor(uniform() * networkFaults.length * 1.33);
    const fault = networkFaults[chance] ?? null;
    if (fault) done[fault]++;
    const cut = uniform();
    const chunks: Buffer[] = [];
    asked.on('error', () => {});
    asked.on('data', (chunk: Buffer) => chunks.push(chunk));
    asked.on('end', () => {
      if (fault === 'request lost') return asked.socket.destroy();
      if (fault === 'sign-in page of the network') {
        return answer.writeHead(200, { 'content-type': 'text/html' }).end('<h1>Welcome</h1>');
      }
      const pass = () => {
        const onward = request(
          {
            hostname,
            port,
            path: asked.url,
            method: asked.method,
            headers: { ...asked.headers, host },
          },
          (given) => {
            const parts: Buffer[] = [];
            given.on('data', (part: Buffer) => parts.push(part));
            given.on('error', () => asked.socket.destroy());
            given.on('end', () => {
              if (fault === 'answer lost') return asked.socket.destroy();
              const whole = Buffer.concat(parts);
              const { 'transfer-encoding': _, ...headers } = given.headers;
              answer.writeHead(given.statusCode ?? 502, {
                ...headers,
                'content-length': String(whole.length),
              });
              if (fault !== 'answer cut short') return answer.end(whole);
              answer.write(whole.subarray(0, Math.floor(cut * whole.length)), () =>
                asked.socket.destroy(),
              );
            });
          },
        );
        onward.on('error', () => asked.socket.destroy());
        onward.end(Buffer.concat(chunks));
      };
      setTimeout(pass, fault === 'late' ? cut * 1_000 : 0);
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    origin: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    done,
    close: () =>
      new Promise((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}
