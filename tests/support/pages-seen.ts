import { readdirSync } from 'node:fs';
import { plain, type Visitor } from './visitor';

/** A form of a page, as a browser without scripts would send it. */
export interface SeenForm {
  readonly path: string;
  /** Posted; otherwise its fields go into the address. */
  readonly isSent: boolean;
  /** What the page gives each field that nobody sees; it names the action among them. */
  readonly hidden: Readonly<Record<string, string>>;
  /** Fields that a person fills in, with what stands in them. */
  readonly filled: Readonly<Record<string, string>>;
}

/** `/units/[unit]` of every page, or of every route that answers programs, as the folders name them. */
export const routesOf = (file: 'page.tsx' | 'route.ts'): string[] =>
  readdirSync('app', { recursive: true, encoding: 'utf8' })
    .filter((path) => path.endsWith(`/${file}`))
    .map((path) => `/${path.slice(0, -file.length - 1)}`)
    .filter((path) => !/\/_/.test(path))
    .map((path) => path.replaceAll(/\/\([^)]*\)/g, ''));

const attribute = (tag: string, name: string): string | undefined => {
  const found = new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1];
  return found === undefined ? undefined : plain(found);
};

function formsOf(path: string, html: string): SeenForm[] {
  return [...html.matchAll(/<form([^>]*)>([\s\S]*?)<\/form>/g)].map(
    ([, open = '', inside = '']) => {
      const hidden: Record<string, string> = {};
      const filled: Record<string, string> = {};
      for (const [tag] of inside.matchAll(/<(?:input|textarea|button)\b[^>]*>/g)) {
        const name = attribute(tag, 'name');
        const fields = attribute(tag, 'type') === 'hidden' ? hidden : filled;
        if (name !== undefined) fields[name] ??= attribute(tag, 'value') ?? '';
      }
      for (const [, open = '', options = ''] of inside.matchAll(
        /<select\b([^>]*)>([\s\S]*?)<\/select>/g,
      )) {
        const name = attribute(open, 'name');
        if (name !== undefined) filled[name] ??= attribute(options, 'value') ?? '';
      }
      const isSent = attribute(open, 'method')?.toLowerCase() === 'post';
      return { path, isSent, hidden, filled };
    },
  );
}

export interface Seen {
  /** Routes whose page or answer the visitor got. */
  readonly opened: ReadonlySet<string>;
  /** An address of each route that the visitor came by, its query left out. */
  readonly addresses: ReadonlyMap<string, string>;
  /** Names that links and search forms put into an address. */
  readonly names: ReadonlySet<string>;
  /** One of each kind that is posted. */
  readonly forms: readonly SeenForm[];
}

/** Opens each page, and follows the links to one page of each route whose address names something. */
export async function lookAround(visitor: Visitor, routes: readonly string[]): Promise<Seen> {
  const patterns = routes
    // The most particular first: `/work-orders/new` is no order's number.
    .toSorted((a, b) => a.split('[').length - b.split('[').length)
    .map((route) => ({
      route,
      pattern: new RegExp(`^${route.replaceAll(/\[\w+\]/g, '[^/]+').replaceAll('.', '\\.')}$`),
    }));
  const addresses = new Map(
    routes.filter((route) => !route.includes('[')).map((route) => [route, route]),
  );
  const opened = new Set<string>();
  const names = new Set<string>();
  const forms = new Map<string, SeenForm>();
  for (const [route, address] of addresses) {
    const answer = await visitor.get(address);
    if (answer.status === 200) opened.add(route);
    if (!answer.headers.get('content-type')?.startsWith('text/html')) continue;
    const html = await answer.text();
    for (const [, href = ''] of html.matchAll(/href="(\/[^"]*)"/g)) {
      const { pathname, searchParams } = new URL(plain(href), visitor.origin);
      for (const name of searchParams.keys()) names.add(name);
      const known = patterns.find(({ pattern }) => pattern.test(pathname));
      if (known && !addresses.has(known.route)) addresses.set(known.route, pathname);
    }
    for (const form of formsOf(address, html)) {
      const fields = Object.keys(form.filled);
      const kind = [route, ...fields.toSorted()].join(' ');
      if (!form.isSent) for (const name of fields) names.add(name);
      else if (!forms.has(kind)) forms.set(kind, form);
    }
  }
  return { opened, addresses, names, forms: [...forms.values()] };
}
