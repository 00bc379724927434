/** A log of ten minutes at 50 samples a second is below a tenth of this. */
export const mostBytes = 5_000_000;

/** Text of the file in the encoding that its first bytes tell. */
export async function readTraceFile(file: File): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const [first, second] = bytes;
  const encoding =
    first === 0xff && second === 0xfe
      ? 'utf-16le'
      : first === 0xfe && second === 0xff
        ? 'utf-16be'
        : 'utf-8';
  return new TextDecoder(encoding).decode(bytes);
}
