import { z } from 'zod';
import { problemResponse, readBytes } from '@/app/_door';
import { environment } from '@/app/_environment';
import { signedIn } from '@/app/_session';
import { database } from '@/db/handle';
import { noticeOfBulletin } from '@/db/reads/notice-of-bulletin';
import { attachNotice } from '@/db/writes/attach-notice';
import { AccessDenied } from '@/lib/access';
import { mostAttachmentBytes, tooLarge } from '@/lib/intake/attached-pdf';

type Context = RouteContext<'/effectivity/bulletins/[bulletin]/attachment'>;

const bulletinOf = async ({ params }: Context): Promise<string | null> =>
  z.uuid().safeParse((await params).bulletin).data ?? null;

/** RFC 6266: a plain name for every reader, and the whole name encoded beside it. */
const disposition = (name: string): string =>
  `attachment; filename="${name.replaceAll(/[^A-Za-z0-9 ._-]/g, '_')}"; filename*=UTF-8''${encodeURIComponent(name)}`;

const denied = (error: unknown): Response => {
  if (error instanceof AccessDenied) return problemResponse(403, `${error.message}.`);
  throw error;
};

/** The notice as a file to keep: never shown within a page of this site. */
export async function GET(_: Request, context: Context): Promise<Response> {
  const person = await signedIn();
  if (!person) return problemResponse(401, 'Sign in again.');
  const bulletinId = await bulletinOf(context);
  const { db } = await database();
  try {
    const notice = bulletinId && (await noticeOfBulletin(db, person, bulletinId));
    if (!notice) return problemResponse(404, 'No notice is attached.');
    return new Response(new Uint8Array(notice.content), {
      headers: {
        'content-type': 'application/pdf',
        'content-disposition': disposition(notice.name),
        'content-security-policy': "default-src 'none'; sandbox",
        'x-content-type-options': 'nosniff',
        'cache-control': 'private, no-store',
      },
    });
  } catch (error) {
    return denied(error);
  }
}

/** The body is the file itself, its name in `x-file-name`, percent-encoded. */
export async function POST(request: Request, context: Context): Promise<Response> {
  if (request.headers.get('origin') !== environment().origin) {
    return problemResponse(403, 'The request does not come from this site.');
  }
  const person = await signedIn();
  if (!person) return problemResponse(401, 'Sign in again.');
  const bulletinId = await bulletinOf(context);
  const name = nameOf(request.headers.get('x-file-name') ?? '');
  if (bulletinId === null || name === null) return problemResponse(400, 'It cannot be read.');
  const content = await readBytes(request, mostAttachmentBytes);
  if (content === null) return problemResponse(413, tooLarge.message, [tooLarge]);
  const { db } = await database();
  try {
    const now = new Date();
    const kept = await attachNotice(db, { actor: person, bulletinId, name, content, now });
    return kept.ok
      ? Response.json(kept.value, { status: 201 })
      : problemResponse(422, kept.error.message, [kept.error]);
  } catch (error) {
    return denied(error);
  }
}

function nameOf(encoded: string): string | null {
  try {
    return decodeURIComponent(encoded);
  } catch {
    return null;
  }
}
