import { decode, encodingNames } from '#server/workspace/decode.ts';

/** A text with the way back to the bytes it was read from, so that a side file has the sheet's own encoding. */
export interface SheetText {
  readonly text: string;
  /** Named where it isn't UTF-8. */
  readonly encoding?: string;
  encode(text: string): Uint8Array;
}

/** A sheet, and how its side file is written: spreadsheets save for older programs, too. */
export function readSheetBytes(bytes: Buffer): SheetText {
  const { text, encoding } = decode(bytes);
  switch (encoding) {
    case 'utf-8': {
      const marked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
      return { text, encode: (out) => Buffer.from(marked ? `\uFEFF${out}` : out, 'utf8') };
    }
    case 'windows-1252':
      return { text, encoding: `${encodingNames[encoding]}, as it is not UTF-8`, encode: toWindows1252 };
    default:
      return { text, encoding: encodingNames[encoding], encode: (out) => toUtf16(out, encoding === 'utf-16be') };
  }
}

function toUtf16(out: string, big: boolean): Uint8Array {
  const little = Buffer.from(`\uFEFF${out}`, 'utf16le');
  return big ? little.swap16() : little;
}

/** Each byte is one character there and back (WHATWG Encoding Standard, windows-1252). */
function toWindows1252(out: string): Uint8Array {
  const decoder = new TextDecoder('windows-1252');
  const byteOf = new Map(
    Array.from({ length: 256 }, (_, byte) => [decoder.decode(Uint8Array.of(byte)), byte] as const),
  );
  return Uint8Array.from([...out].map((character) => byteOf.get(character) ?? 0x3f));
}
