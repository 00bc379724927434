import type { Pack } from '@/lib/outflow/pack/auditors-pack';
import type { PackBlock } from '@/lib/outflow/pack/pack-blocks';
import type { Paper } from './pack-request';
import { numberPages, openSheet, type Sheet } from './pack-sheet';
import { drawTable } from './pack-table';

interface OnPaper {
  readonly pack: Pack;
  readonly paper: Paper;
  readonly madeAt: Date;
}

/** The pack as a tagged PDF: headings, paragraphs and tables as such, on Letter or A4. */
export async function packPdf({ pack, paper, madeAt }: OnPaper): Promise<Buffer> {
  const sheet = openSheet({ title: pack.title, paper, madeAt });
  const { doc } = sheet;
  const whole = new Promise<Buffer>((resolve, reject) => {
    const parts: Buffer[] = [];
    doc.on('data', (part: Buffer) => parts.push(part));
    doc.on('end', () => resolve(Buffer.concat(parts)));
    doc.on('error', reject);
  });
  pack.blocks.forEach((block, index) => {
    if (block.is === 'table') drawTable(sheet, block);
    else drawText(sheet, block, index === 0);
  });
  numberPages(sheet, pack.title);
  doc.end();
  return whole;
}

type Said = Exclude<PackBlock, { is: 'table' }>;

const styles = {
  title: { face: 'bold', size: 15, tag: 'H1' },
  heading: { face: 'bold', size: 11, tag: 'H2' },
  text: { face: 'body', size: 8.5, tag: 'P' },
  alarm: { face: 'bold', size: 10, tag: 'P' },
} as const;

function drawText(sheet: Sheet, { is, text }: Said, isTitle: boolean): void {
  const { doc, left, width, bottom, say } = sheet;
  const { face, size, tag } = styles[isTitle ? 'title' : is];
  const words = say(text);
  doc.font(face).fontSize(size);
  // A heading keeps some of what it heads on its page.
  const room = doc.heightOfString(words, { width }) + (is === 'heading' ? 50 : 0);
  if (doc.y + room > bottom) doc.addPage();
  doc.addStructure(
    doc.struct(tag, {}, () => {
      doc.text(words, left, doc.y, { width });
    }),
  );
  if (is === 'heading') doc.outline.addItem(words);
  doc.moveDown(0.4);
}
