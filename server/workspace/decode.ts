export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

export interface Decoded {
  readonly text: string;
  readonly encoding: Encoding;
}

/** As a reader knows them. */
export const encodingNames: Readonly<Record<Encoding, string>> = {
  'utf-8': 'UTF-8',
  'utf-16le': 'UTF-16',
  'utf-16be': 'UTF-16',
  'windows-1252': 'Windows-1252',
};

/** Node and workers have it; the language's own library doesn't name it. */
declare const TextDecoder: new (
  encoding: Encoding,
  options?: { readonly fatal: boolean },
) => { decode(bytes: Uint8Array): string };

/** So much of a file tells how wide its letters are. */
const looked = 4096;

/**
 * The text of a file: UTF-8 with or without its mark; UTF-16 by its mark or by the zeros between its letters, as some
 * programs on Windows write; else Windows-1252, whose letters are those of Latin-1.
 */
export function decode(bytes: Uint8Array): Decoded {
  const wide = wideOf(bytes);
  if (wide) return { text: new TextDecoder(wide).decode(bytes), encoding: wide };
  const text = new TextDecoder('utf-8').decode(bytes);
  // the sign for what could not be decoded, unless it stands in the file itself
  if (!text.includes('\uFFFD') || isUtf8(bytes)) return { text, encoding: 'utf-8' };
  return { text: new TextDecoder('windows-1252').decode(bytes), encoding: 'windows-1252' };
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

function wideOf(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | undefined {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le';
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be';
  let [even, odd] = [0, 0];
  const end = Math.min(bytes.length, looked);
  for (let i = 0; i < end; i++)
    if (bytes[i] === 0) {
      if (i % 2 === 0) even++;
      else odd++;
    }
  // a log is mostly ASCII: nearly every second byte of it is a zero then, and no other
  if (odd > end / 3 && even < end / 50) return 'utf-16le';
  if (even > end / 3 && odd < end / 50) return 'utf-16be';
  return undefined;
}
