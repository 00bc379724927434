import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { PDFPageProxy } from 'pdfjs-dist/types/src/display/api';
import { describe, expect, it } from 'vitest';
import { packPdf } from '@/app/(safety-officer)/auditors-pack/pack-pdf';
import { printable } from '@/app/(safety-officer)/auditors-pack/printable';
import { auditorsPack } from '@/lib/outflow/pack/auditors-pack';
import type { PackEntry, PackFacts } from '@/lib/outflow/pack/pack-facts';
import { aPack, wholeCheck } from '../../support/a-pack';

const reader = { name: 'Moro Vey, A-01', pressure: 'psi', distance: 'mi' } as const;

type Structure = Awaited<ReturnType<PDFPageProxy['getStructTree']>>;

const rolesIn = (node: Structure): string[] => [
  node.role,
  ...node.children.flatMap((child) => ('role' in child ? rolesIn(child) : [])),
];

/** Reads a PDF back with a reader that shares no code with the writer. */
async function readBack(bytes: Buffer) {
  const task = getDocument({ data: new Uint8Array(bytes), verbosity: 0 });
  const pdf = await task.promise;
  const pages = [];
  for (let number = 1; number <= pdf.numPages; number++) {
    const page = await pdf.getPage(number);
    const { items } = await page.getTextContent();
    pages.push({
      size: page.view.slice(2),
      text: items.map((item) => ('str' in item ? item.str : '')).join(' '),
      roles: rolesIn(await page.getStructTree()),
    });
  }
  const { info } = await pdf.getMetadata();
  const read = { pages, info, marks: await pdf.getMarkInfo(), outline: await pdf.getOutline() };
  await task.destroy();
  return read;
}

const pdfOf = (facts: PackFacts, paper: 'Letter' | 'A4') =>
  packPdf({
    pack: auditorsPack(facts, wholeCheck, reader),
    paper,
    madeAt: wholeCheck.checkedAt,
  });

const entry = (number: number, change: Partial<PackEntry> = {}): PackEntry => ({
  ...(aPack().entries[0] as PackEntry),
  entry: number,
  ...change,
});

// Paper sizes: ANSI/ASME Y14.1 (8.5 by 11 in) and ISO 216 (210 by 297 mm), at 72 points an inch.
describe("the auditor's pack on paper", () => {
  it.each([
    ['Letter', 792, 612],
    ['A4', 841.89, 595.28],
  ] as const)(
    'on %s is tagged, titled, in a named language, with its tables marked',
    async (paper, width, height) => {
      const { pages, info, marks, outline } = await readBack(await pdfOf(aPack(), paper));
      for (const { size } of pages) {
        expect(size[0]).toBeCloseTo(width, 1);
        expect(size[1]).toBeCloseTo(height, 1);
      }
      expect(info).toMatchObject({ Title: "Auditor's pack: unit 0417", Language: 'en-US' });
      expect(marks).toMatchObject({ Marked: true });
      expect(outline.map(({ title }) => title)).toContain('Ledger entries');
      const roles = pages.flatMap((page) => page.roles);
      for (const role of ['H1', 'H2', 'P', 'Table', 'TR', 'TH', 'TD'])
        expect(roles).toContain(role);
      expect(roles.filter((role) => role === 'H1')).toHaveLength(1);
    },
  );

  it('prints the names of people whole, hashes in full, and page n of m', async () => {
    const { pages } = await readBack(await pdfOf(aPack(), 'A4'));
    const text = pages.map((page) => page.text).join(' ');
    expect(text).toContain('Žofia Łuk, T-12');
    expect(text).toContain('Rhea Solt, S-01');
    expect(text).toContain('c'.repeat(64));
    expect(text).toContain('Unbroken: all 812 entries');
    pages.forEach((page, index) => {
      expect(page.text).toContain(`page ${index + 1} of ${pages.length}`);
    });
  });

  it('prints Greek and Cyrillic, and gives the number of what its face lacks', async () => {
    const named = entry(1, { who: 'Ελένη Иванова 李 a\u202Eb' });
    const { pages } = await readBack(await pdfOf(aPack({ entries: [named] }), 'Letter'));
    const text = pages
      .map((page) => page.text)
      .join(' ')
      .replace(/\s+/g, ' ');
    expect(text).toContain('Ελένη Иванова');
    expect(text).toContain('[U+674E]');
    expect(text).toContain('[U+202E]');
  });

  it('repeats the head of a long table, loses no row, and splits only what no page holds', async () => {
    const long = `begins ${'word '.repeat(2_500)}ends`;
    const entries = [
      ...Array.from({ length: 120 }, (_, index) => entry(5_000 + index)),
      entry(6_000, { canonical: JSON.stringify({ why: long }) }),
    ];
    const { pages } = await readBack(await pdfOf(aPack({ entries }), 'A4'));
    const text = pages.map((page) => page.text).join(' ');
    for (const { entry: number } of entries) expect(text).toContain(` ${number} `);
    expect(text).toContain('begins');
    expect(text).toContain('ends');
    expect(text.match(/\bword\b/g)).toHaveLength(2_500);
    for (const page of pages.slice(-3)) expect(page.text).toContain('payload, entry before');
  });
});

describe('printable text', () => {
  it('keeps what the face has, line ends too, and numbers the rest', () => {
    const face = { hasGlyphForCodePoint: (code: number) => code < 0x500 };
    expect(printable('aŽ\nb', face)).toBe('aŽ\nb');
    expect(printable('\u0007\uD83D\uDE80', face)).toBe('[U+0007][U+1F680]');
  });
});
