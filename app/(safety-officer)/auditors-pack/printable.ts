/** What a face can draw. */
export interface Face {
  hasGlyphForCodePoint(code: number): boolean;
}

/**
 * Text as a face can print it: a character that it lacks, or that only steers text (an override of
 * direction in a name, say), stands as its number. Line ends stay.
 */
export const printable = (text: string, face: Face): string =>
  text.replace(/[^\n -~]/gu, (character) => {
    const code = character.codePointAt(0) ?? 0;
    if (!/\p{C}/u.test(character) && face.hasGlyphForCodePoint(code)) return character;
    return `[U+${code.toString(16).toUpperCase().padStart(4, '0')}]`;
  });
