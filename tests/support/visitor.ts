interface Sent {
  readonly body?: string | FormData;
  readonly headers?: Readonly<Record<string, string>>;
}

export const plain = (text: string): string =>
  text.replaceAll('&quot;', '"').replaceAll('&#x27;', "'").replaceAll('&amp;', '&');

/** A browser without scripts: keeps cookies, follows nothing, fills in forms as the pages give them. */
export class Visitor {
  readonly cookies = new Map<string, string>();

  constructor(readonly origin: string) {}

  async ask(method: string, path: string, { body, headers = {} }: Sent = {}): Promise<Response> {
    const cookie = [...this.cookies].map(([name, value]) => `${name}=${value}`).join('; ');
    const answer = await fetch(this.origin + path, {
      method,
      redirect: 'manual',
      body,
      headers: { ...(cookie && { cookie }), ...headers },
    });
    for (const kept of answer.headers.getSetCookie()) {
      const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(kept) ?? [];
      this.cookies.set(name, value);
    }
    return answer;
  }

  get = (path: string): Promise<Response> => this.ask('GET', path);

  post(path: string, body: string, headers: Record<string, string> = {}): Promise<Response> {
    const own = { origin: this.origin, 'content-type': 'application/json' };
    return this.ask('POST', path, { body, headers: { ...own, ...headers } });
  }

  /** The unseen fields of the one form of a page that holds `mark`. */
  async formOf(path: string, mark: string): Promise<Record<string, string>> {
    const html = await (await this.get(path)).text();
    const form = [...html.matchAll(/<form[\s\S]*?<\/form>/g)].find(([text]) => text.includes(mark));
    if (!form) throw new Error(`${path} has no form with ${mark}`);
    const fields: Record<string, string> = {};
    for (const [input] of form[0].matchAll(/<input[^>]*type="hidden"[^>]*>/g)) {
      const name = /name="([^"]*)"/.exec(input)?.[1];
      if (name) fields[plain(name)] = plain(/value="([^"]*)"/.exec(input)?.[1] ?? '');
    }
    return fields;
  }

  submit(
    path: string,
    fields: Readonly<Record<string, string>>,
    headers: Record<string, string> = { origin: this.origin },
  ): Promise<Response> {
    const body = new FormData();
    for (const [name, value] of Object.entries(fields)) body.append(name, value);
    return this.ask('POST', path, { body, headers });
  }

  async fill(path: string, mark: string, fields: Record<string, string>): Promise<Response> {
    return this.submit(path, { ...(await this.formOf(path, mark)), ...fields });
  }

  signIn(email: string, password = 'demo-only-not-secret'): Promise<Response> {
    return this.fill('/sign-in', 'name="password"', { email, password });
  }
}

export async function signedInAs(origin: string, who: string): Promise<Visitor> {
  const visitor = new Visitor(origin);
  const answer = await visitor.signIn(`${who}@tarn.example`);
  if (answer.status !== 303) throw new Error(`${who} could not sign in: ${answer.status}`);
  return visitor;
}
