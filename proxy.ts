import { type NextRequest, NextResponse } from 'next/server';

/** A form of this site names its origin; one without, or from elsewhere, was sent by another site. */
function isFromHere(request: NextRequest): boolean {
  if (request.method === 'GET' || request.method === 'HEAD') return true;
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
