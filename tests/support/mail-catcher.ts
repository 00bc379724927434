import { appendFileSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';

export interface MailCatcher {
  /** Address for IDLEMARK_SMTP. */
  readonly url: string;
  close(): Promise<void>;
}

/** A mail server of RFC 5321's least commands; what it is handed is added to `file`. */
export async function catchMail(file: string): Promise<MailCatcher> {
  const server = createServer((socket) => {
    let isBody = false;
    let waiting = '';
    socket.on('error', () => {});
    socket.write('220 catcher\r\n');
    socket.on('data', (chunk) => {
      const lines = (waiting + chunk.toString('utf8')).split('\r\n');
      waiting = lines.pop() ?? '';
      for (const line of lines) {
        if (isBody) {
          appendFileSync(file, `${line}\n`);
          if (line !== '.') continue;
          isBody = false;
          socket.write('250 kept\r\n');
        } else if (/^DATA/i.test(line)) {
          isBody = true;
          socket.write('354 go on\r\n');
        } else if (/^QUIT/i.test(line)) socket.end('221 bye\r\n');
        else socket.write('250 yes\r\n');
      }
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    url: `smtp://127.0.0.1:${(server.address() as AddressInfo).port}`,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}
