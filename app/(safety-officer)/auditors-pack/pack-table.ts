import type { PackBlock, PackColumn } from '@/lib/outflow/pack/pack-blocks';
import { asArtifact, type FaceName, type Sheet } from './pack-sheet';

type Table = Extract<PackBlock, { is: 'table' }>;

/** What the head of a column says of itself; the types of the library leave the scope out. */
const ofColumn: PDFKit.Mixins.StructureElementOptions & { scope: string } = { scope: 'Column' };

const size = 7;
const fixedSize = 5.6;
const padding = 3;

interface Place {
  readonly column: PackColumn;
  readonly x: number;
  readonly width: number;
}

function chooseFace({ doc }: Sheet, { column }: Place, isHead: boolean): void {
  const isFixed = column.isFixed && !isHead;
  const face: FaceName = isHead ? 'bold' : isFixed ? 'fixed' : 'body';
  doc.font(face).fontSize(isFixed ? fixedSize : size);
}

function places({ left, width }: Sheet, columns: readonly PackColumn[]): Place[] {
  const whole = columns.reduce((sum, { weight }) => sum + weight, 0);
  let x = left;
  return columns.map((column) => {
    const own = (column.weight / whole) * width;
    const place = { column, x: x + padding, width: own - 2 * padding };
    x += own;
    return place;
  });
}

const heightOf = (sheet: Sheet, place: Place, text: string, isHead: boolean): number => {
  chooseFace(sheet, place, isHead);
  return sheet.doc.heightOfString(text || ' ', { width: place.width });
};

/** The longest beginning of a text that stands within a height, and what is left of it. */
function splitAt(sheet: Sheet, place: Place, text: string, height: number): [string, string] {
  if (heightOf(sheet, place, text, false) <= height) return [text, ''];
  let fits = 1;
  let tooLong = text.length;
  while (tooLong - fits > 1) {
    const middle = Math.floor((fits + tooLong) / 2);
    if (heightOf(sheet, place, text.slice(0, middle), false) <= height) fits = middle;
    else tooLong = middle;
  }
  const blank = text.slice(0, fits).search(/\s\S*$/);
  const end = blank > 0 ? blank : fits;
  return [text.slice(0, end), text.slice(end).trimStart()];
}

function drawCells(
  sheet: Sheet,
  cells: readonly Place[],
  texts: readonly string[],
  { top, isHead }: { readonly top: number; readonly isHead: boolean },
  around: (draw: () => void) => void,
): void {
  cells.forEach((place, index) => {
    around(() => {
      chooseFace(sheet, place, isHead);
      sheet.doc.text(texts[index] || ' ', place.x, top, {
        width: place.width,
        align: place.column.isNumber ? 'right' : 'left',
      });
    });
  });
}

/** A table with its head repeated on every page; a row that fits on a page is never split. */
export function drawTable(sheet: Sheet, { name, columns, rows }: Table): void {
  const { doc, say, top, bottom, left, width } = sheet;
  const cells = places(sheet, columns);
  const titles = columns.map(({ title }) => say(title));
  const headHeight = Math.max(
    ...cells.map((place, at) => heightOf(sheet, place, titles[at] ?? '', true)),
  );
  const table = doc.struct('Table', { title: say(name) });
  doc.addStructure(table);
  let y = doc.y;

  const rule = (at: number) =>
    asArtifact(sheet, () => {
      doc
        .lineWidth(0.4)
        .moveTo(left, at)
        .lineTo(left + width, at)
        .stroke('#636D74');
    });
  const tagged = (texts: readonly string[], isHead: boolean) => {
    const row = doc.struct('TR');
    table.add(row);
    drawCells(sheet, cells, texts, { top: y, isHead }, (draw) => {
      row.add(doc.struct(isHead ? 'TH' : 'TD', isHead ? ofColumn : {}, draw));
    });
    row.end();
  };
  const turnPage = () => {
    doc.addPage();
    y = top;
    asArtifact(sheet, () => {
      drawCells(sheet, cells, titles, { top: y, isHead: true }, (draw) => draw());
    });
    y += headHeight + padding;
    rule(y - 1);
  };

  if (y + headHeight + 4 * size > bottom) {
    doc.addPage();
    y = top;
  }
  tagged(titles, true);
  y += headHeight + padding;
  rule(y - 1);
  const most = bottom - top - headHeight - 3 * padding;
  const shown = rows.length > 0 ? rows : [['None on record.']];
  for (const texts of shown) {
    let rest = columns.map((_, at) => say(texts[at] ?? ''));
    while (rest.some((text) => text !== '')) {
      const split = cells.map((place, at) => splitAt(sheet, place, rest[at] ?? '', most));
      const part = split.map(([fits]) => fits);
      rest = split.map(([, left]) => left);
      const height = Math.max(
        ...cells.map((place, at) => heightOf(sheet, place, part[at] ?? '', false)),
      );
      if (y + height + padding > bottom) turnPage();
      y += padding / 2;
      tagged(part, false);
      y += height + padding;
      rule(y - 1);
    }
  }
  table.end();
  doc.x = left;
  doc.y = y + 8;
}
