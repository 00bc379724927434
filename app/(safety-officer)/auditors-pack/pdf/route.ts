import { makePack } from '../make-pack';
import { packPdf } from '../pack-pdf';

/** The auditor's pack on paper. */
export async function GET(request: Request): Promise<Response> {
  const made = await makePack(new URL(request.url));
  return new Response(new Uint8Array(await packPdf(made)), {
    headers: {
      'content-type': 'application/pdf',
      'content-disposition': `attachment; filename="${made.fileName}.pdf"`,
      'cache-control': 'no-store',
    },
  });
}
