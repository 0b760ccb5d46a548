import pc from 'picocolors';

export interface Page {
  readonly color: ReturnType<typeof pc.createColors>;
  /** Characters beyond ASCII can be shown. */
  readonly wide: boolean;
  /** Read by a person: laid out for the eye. An editor's own terminal looks for lines it can lead from, as a file does. */
  readonly read: boolean;
}

export function pageFor(
  color: string | boolean | undefined,
  stream: { isTTY?: boolean },
  env: NodeJS.ProcessEnv,
): Page {
  const coloured = color === 'always' || (color !== 'never' && stream.isTTY === true && env.NO_COLOR === undefined);
  return {
    color: pc.createColors(coloured),
    wide: !/^(C|POSIX)$/.test(env.LC_ALL ?? env.LANG ?? 'UTF-8'),
    read: stream.isTTY === true && env.TERM_PROGRAM !== 'vscode',
  };
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
