/** Why nothing of a file is taken, as what is said of it: `has no column of days`. */
export interface Refused {
  readonly refused: string;
}

/** A column of figures. */
export interface Reading {
  readonly name: string;
  readonly at: number;
  readonly tenths: boolean;
  /** Column of its flags, as GHCN-Daily has them. */
  readonly flags?: number;
}

export interface Columns {
  readonly day: number;
  readonly min?: Reading;
  readonly max?: Reading;
  /** Tells which station a row is of. */
  readonly station?: number;
}

/** Which columns hold what. Names are those of the trade's open data; a name that doesn't tell its unit isn't guessed at. */
export function columnsOf(header: readonly string[]): Columns | Refused {
  const names = header.map((cell) => cell.trim());
  if (names.every((name) => name === '')) return { refused: 'is empty' };
  const plain = names.map((name) => name.toLowerCase());
  const day = plain.indexOf('date');
  const tenths = [names.indexOf('TMIN'), names.indexOf('TMAX')] as const;
  const degrees = [plain.indexOf('temp_min'), plain.indexOf('temp_max')] as const;
  const inTenths = tenths.some((at) => at >= 0);
  const inDegrees = degrees.some((at) => at >= 0);
  if (day < 0 || (!inTenths && !inDegrees))
    return {
      refused: `has no columns \`DATE\` with \`TMIN\`, \`TMAX\` or \`temp_min\`, \`temp_max\`; it has ${listed(names)}`,
    };
  if (inTenths && inDegrees)
    return { refused: 'has `TMIN`, `TMAX` and `temp_min`, `temp_max`: which of them are meant?' };
  const used = inTenths ? tenths : degrees;
  const twice = [day, ...used].find((at) => at >= 0 && plain.indexOf(plain[at] ?? '', at + 1) >= 0);
  if (twice !== undefined) return { refused: `has two columns \`${names[twice]}\`` };
  const reading = (at: number): Reading | undefined => {
    const flags = names.indexOf(`${names[at]}_ATTRIBUTES`);
    return at < 0 ? undefined : { name: names[at] ?? '', at, tenths: inTenths, ...(flags >= 0 ? { flags } : {}) };
  };
  const [min, max] = [reading(used[0]), reading(used[1])];
  const station = ['station', 'location', 'name'].map((name) => plain.indexOf(name)).find((at) => at >= 0);
  return { day, ...(min ? { min } : {}), ...(max ? { max } : {}), ...(station === undefined ? {} : { station }) };
}

/** The first few, and how many more. */
function listed(names: readonly string[]): string {
  const shown = names.slice(0, 3).map((name) => `\`${name.length > 16 ? `${name.slice(0, 15)}…` : name}\``);
  return names.length > 3 ? `${shown.join(', ')} and ${names.length - 3} more` : shown.join(', ');
}
