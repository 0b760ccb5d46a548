import pc from 'picocolors';
import stringWidth from 'string-width';

export interface Page {
  readonly color: ReturnType<typeof pc.createColors>;
  /** Characters beyond ASCII can be shown. */
  readonly wide: boolean;
}

export function pageFor(
  color: string | boolean | undefined,
  stream: { isTTY?: boolean },
  env: NodeJS.ProcessEnv,
): Page {
  const coloured = color === 'always' || (color !== 'never' && stream.isTTY === true && env.NO_COLOR === undefined);
  return { color: pc.createColors(coloured), wide: !/^(C|POSIX)$/.test(env.LC_ALL ?? env.LANG ?? 'UTF-8') };
}

/** Cells in columns; numbers right, words left. The last column is not padded, so that no line ends in blanks. */
export function columns(rows: readonly (readonly string[])[], right: ReadonlySet<number> = new Set()): string[] {
  const widths: number[] = [];
  for (const row of rows)
    row.forEach((cell, i) => {
      widths[i] = Math.max(widths[i] ?? 0, stringWidth(cell));
    });
  return rows.map((row) =>
    row
      .map((cell, i) => {
        const pad = ' '.repeat((widths[i] ?? 0) - stringWidth(cell));
        return right.has(i) ? pad + cell : i === row.length - 1 ? cell : cell + pad;
      })
      .join('  ')
      .trimEnd(),
  );
}

/** Breaks a sentence into lines of at most `width`, each behind `indent` blanks. */
export function wrap(text: string, width: number, indent: number): string {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line && stringWidth(line) + 1 + stringWidth(word) > width - indent) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  if (line) lines.push(line);
  return lines.map((part) => ' '.repeat(indent) + part).join('\n');
}

/** Marks that a terminal without UTF-8 can't show. */
export const asciiOf = (text: string): string =>
  text
    .replaceAll('\u00A0', ' ')
    .replaceAll('–', '-')
    .replaceAll(' · ', ' - ')
    .replaceAll('−', '-')
    .replaceAll('’', "'")
    .replaceAll('…', '...')
    .replaceAll('×', 'x');

/** Text from a log that goes to a terminal: no control characters, so that a log can't move its cursor. */
export const inert = (text: string): string =>
  text.replace(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g, '\uFFFD');
