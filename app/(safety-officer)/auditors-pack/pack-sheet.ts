import { join } from 'node:path';
import PDFDocument from 'pdfkit';
import type { Paper } from './pack-request';
import { type Face, printable } from './printable';

const faces = join(process.cwd(), 'node_modules', 'dejavu-fonts-ttf', 'ttf');
export const faceFiles = {
  body: join(faces, 'DejaVuSansCondensed.ttf'),
  bold: join(faces, 'DejaVuSansCondensed-Bold.ttf'),
  fixed: join(faces, 'DejaVuSansMono.ttf'),
} as const;
export type FaceName = keyof typeof faceFiles;

const margin = 36;
const footing = 24;

export interface Sheet {
  readonly doc: PDFKit.PDFDocument;
  readonly left: number;
  readonly width: number;
  /** Where the footing begins. */
  readonly bottom: number;
  readonly top: number;
  say(text: string): string;
}

interface SheetOf {
  readonly title: string;
  readonly paper: Paper;
  readonly madeAt: Date;
}

/** A tagged document, landscape for its wide tables, with its title and language set. */
export function openSheet({ title, paper, madeAt }: SheetOf): Sheet {
  const doc = new PDFDocument({
    size: paper === 'A4' ? 'A4' : 'LETTER',
    layout: 'landscape',
    margins: { top: margin, left: margin, right: margin, bottom: margin },
    pdfVersion: '1.7',
    tagged: true,
    lang: 'en-US',
    displayTitle: true,
    bufferPages: true,
    info: { Title: title, Creator: 'Idlemark', CreationDate: madeAt },
  });
  for (const [name, file] of Object.entries(faceFiles)) doc.registerFont(name, file);
  doc.font('body');
  // The types of the library leave out the face that it has opened.
  const { font: face } = (doc as unknown as { _font: { font: Face } })._font;
  const { width, height } = doc.page;
  return {
    doc,
    left: margin,
    width: width - 2 * margin,
    top: margin,
    bottom: height - margin - footing,
    say: (text) => printable(text, face),
  };
}

/** Drawn for the eye alone: read aloud, it would only repeat. */
export function asArtifact({ doc }: Sheet, draw: () => void): void {
  doc.markContent('Artifact', { type: 'Pagination' });
  draw();
  doc.endMarkedContent();
}

/** Numbers the pages once all are there: title, page n of m. */
export function numberPages(sheet: Sheet, title: string): void {
  const { doc, left, width, bottom, say } = sheet;
  const { start, count } = doc.bufferedPageRange();
  for (let page = start; page < start + count; page++) {
    doc.switchToPage(page);
    asArtifact(sheet, () => {
      doc.font('body').fontSize(7);
      const foot = { width, height: footing, lineBreak: false } as const;
      doc.text(say(title), left, bottom + 10, foot);
      doc.text(`page ${page + 1} of ${count}`, left, bottom + 10, { ...foot, align: 'right' });
    });
  }
}
