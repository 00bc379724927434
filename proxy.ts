import { type NextRequest, NextResponse } from 'next/server';
import { WriteRate } from '@/app/_write-rate';

const writes = new WriteRate();

const isWrite = ({ method }: NextRequest): boolean => method !== 'GET' && method !== 'HEAD';

/** Whose writes are counted together: a session's, or, before sign-in, an address's. */
const writerOf = (request: NextRequest): string =>
  request.cookies.get('__Host-idlemark')?.value ??
  request.headers.get('authorization') ??
  `from ${request.headers.get('x-forwarded-for') ?? ''}`;

/** A form of this site names its origin; one without, or from elsewhere, was sent by another site. */
function isFromHere(request: NextRequest): boolean {
  if (!isWrite(request)) return true;
  // No browser sends a bearer token for another site unasked, and no route here lets it ask.
  if (request.headers.get('authorization')?.startsWith('Bearer ')) return true;
  const host = request.headers.get('x-forwarded-host') ?? request.headers.get('host');
  const origin = request.headers.get('origin') ?? '';
  return URL.canParse(origin) && new URL(origin).host === host;
}

/** No address of this site holds a NUL, which the database could not look up, nor half a character. */
function isReadable({ href, pathname }: URL): boolean {
  if (/%00/.test(href)) return false;
  try {
    decodeURIComponent(pathname);
    return true;
  } catch {
    return false;
  }
}

/** Response headers of every page: scripts run by nonce only, no framing, no foreign origin. */
export function proxy(request: NextRequest): NextResponse {
  if (!isFromHere(request)) {
    return NextResponse.json(
      { title: 'The request does not come from this site.' },
      { status: 403 },
    );
  }
  const wait = isWrite(request) ? writes.take(writerOf(request), Date.now()) : 0;
  if (wait > 0) {
    const title = 'Too much was sent at once. What waits is kept: send it again later.';
    return NextResponse.json(
      { type: 'about:blank', status: 429, title, problems: [] },
      {
        status: 429,
        headers: { 'retry-after': String(wait), 'content-type': 'application/problem+json' },
      },
    );
  }
  if (!isReadable(request.nextUrl)) {
    return NextResponse.json({ title: 'There is no such address.' }, { status: 400 });
  }
  const nonce = Buffer.from(crypto.randomUUID()).toString('base64');
  const isDevelopment = process.env.NODE_ENV === 'development';
  const policy = [
    "default-src 'self'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'${isDevelopment ? " 'unsafe-eval'" : ''}`,
    // Charts and table layouts carry style attributes; scripts stay closed.
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self' blob:",
    "manifest-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ');
  const headers = new Headers(request.headers);
  headers.set('x-nonce', nonce);
  headers.set('content-security-policy', policy);
  const response = NextResponse.next({ request: { headers } });
  response.headers.set('content-security-policy', policy);
  response.headers.set('x-content-type-options', 'nosniff');
  response.headers.set('referrer-policy', 'same-origin');
  response.headers.set('permissions-policy', 'camera=(self), microphone=(), geolocation=()');
  response.headers.set('cross-origin-opener-policy', 'same-origin');
  return response;
}

export const config = {
  matcher: [{ source: '/((?!_next/static|_next/image|icon|sw.js).*)' }],
};
