/** A text with the way back to the bytes it was read from, so that a side file has the sheet's own encoding. */
export interface SheetText {
  readonly text: string;
  /** Named where it isn't UTF-8. */
  readonly encoding?: string;
  encode(text: string): Uint8Array;
}

/** UTF-8 with or without its mark, UTF-16 with its mark; else Windows-1252, as spreadsheets save for older programs. */
export function readSheetBytes(bytes: Buffer): SheetText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return utf16(bytes, false);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return utf16(bytes, true);
  const marked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return { text, encode: (out) => Buffer.from(marked ? `\uFEFF${out}` : out, 'utf8') };
  } catch {
    return windows1252(bytes);
  }
}

function utf16(bytes: Buffer, big: boolean): SheetText {
  return {
    text: new TextDecoder(big ? 'utf-16be' : 'utf-16le').decode(bytes),
    encoding: 'UTF-16',
    encode: (out) => {
      const little = Buffer.from(`\uFEFF${out}`, 'utf16le');
      return big ? little.swap16() : little;
    },
  };
}

/** Each byte is one character there and back (WHATWG Encoding Standard, windows-1252). */
function windows1252(bytes: Buffer): SheetText {
  const decoder = new TextDecoder('windows-1252');
  const byteOf = new Map(
    Array.from({ length: 256 }, (_, byte) => [decoder.decode(Uint8Array.of(byte)), byte] as const),
  );
  return {
    text: decoder.decode(bytes),
    encoding: 'Windows-1252, as it is not UTF-8',
    encode: (out) => Uint8Array.from([...out].map((character) => byteOf.get(character) ?? 0x3f)),
  };
}
