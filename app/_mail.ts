import 'server-only';
import { createTransport } from 'nodemailer';
import { environment } from './_environment';

interface Letter {
  readonly to: string;
  readonly subject: string;
  readonly text: string;
}

/** Hands a letter to the mail server; throws where none is set or it does not take it. */
export async function sendMail(letter: Letter): Promise<void> {
  const { mail } = environment();
  if (!mail) throw new Error('no mail server is set');
  await createTransport({ url: mail.server, connectionTimeout: 10_000 }).sendMail({
    from: mail.from,
    ...letter,
  });
}
