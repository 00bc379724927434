const wordsOfId = 4;
const free = 0;

/**
 * On which line each id of a file stands first. Ids are 32 hexadecimal digits with hyphens; they lie as
 * numbers in one table, since a map of half a million texts takes the collector longer than the rows do.
 *
 * @example a second `before(id, 9)` is 2 where the first was `before(id, 2)`
 */
export class LinesOfIds {
  private size = 0;
  private ids = new Uint32Array(wordsOfId << 10);
  private lines = new Int32Array(1 << 10);
  private readonly word = new Uint32Array(wordsOfId);

  /** The line that the id stood on before; otherwise it stands on this one, from 1 on. */
  before(id: string, line: number): number | undefined {
    const hex = id.replaceAll('-', '');
    for (let k = 0; k < wordsOfId; k++) {
      this.word[k] = Number.parseInt(hex.slice(8 * k, 8 * k + 8), 16);
    }
    const slot = this.slotOf(this.word);
    const known = this.lines[slot];
    if (known !== free) return known;
    this.ids.set(this.word, wordsOfId * slot);
    this.lines[slot] = line;
    this.size += 1;
    if (2 * this.size > this.lines.length) this.grow();
    return undefined;
  }

  /** Where the id lies, or the first free place behind the one that all its digits name. */
  private slotOf(id: Uint32Array): number {
    const last = this.lines.length - 1;
    let mixed = 0;
    for (const word of id) {
      mixed = Math.imul(mixed ^ word, 0x9e3779b1);
      mixed ^= mixed >>> 15;
    }
    let slot = mixed & last;
    while (this.lines[slot] !== free && !this.isAt(slot, id)) slot = (slot + 1) & last;
    return slot;
  }

  private isAt(slot: number, id: Uint32Array): boolean {
    for (let k = 0; k < wordsOfId; k++) {
      if (this.ids[wordsOfId * slot + k] !== id[k]) return false;
    }
    return true;
  }

  private grow(): void {
    const { ids, lines } = this;
    this.ids = new Uint32Array(2 * ids.length);
    this.lines = new Int32Array(2 * lines.length);
    for (let from = 0; from < lines.length; from++) {
      const line = lines[from] ?? free;
      if (line === free) continue;
      const id = ids.subarray(wordsOfId * from, wordsOfId * (from + 1));
      const slot = this.slotOf(id);
      this.ids.set(id, wordsOfId * slot);
      this.lines[slot] = line;
    }
  }
}
