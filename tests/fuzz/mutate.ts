import fc from 'fast-check';

/** Bytes and words at which readers have stumbled: ends, marks, half of a letter, figures at the edge of what a number holds. */
const awkward: readonly Buffer[] = [
  ...[
    '\0',
    '\r',
    '\r\n',
    '\n',
    '\t',
    '\u2028',
    '\uFEFF',
    '\u00A0',
    '"',
    "'",
    '“',
    '#',
    ',',
    ';',
    '..',
    '/',
    '%',
    '.',
    '×',
  ],
  ...[
    '0',
    '-1',
    '9999999999',
    '999999999999999999999',
    '1e308',
    '-0',
    '0/0',
    '1/0',
    '1.2.3',
    'x0',
    'x999999999',
    '1..999999999',
  ],
  ...[
    '0000-00-00',
    '9999-12-31',
    '2026-02-29',
    '24:00',
    'K26',
    'k26.0',
    'K26.999999999',
    'any',
    'rest',
    'except',
    'like',
  ],
  ...[
    '__proto__',
    'constructor',
    'toString',
    'e\u0301',
    '🌲',
    'İ',
    'ß',
    '\u202E',
    '<<<<<<< ',
    '=======',
    '{{',
    '=cmd|',
    '-9999',
  ],
]
  .map((text) => Buffer.from(text))
  .concat([Buffer.from([0xff]), Buffer.from([0xc3]), Buffer.from([0xed, 0xa0, 0x80]), Buffer.from([0xff, 0xfe])]);

interface Step {
  readonly kind: number;
  readonly at: number;
  readonly other: number;
  readonly length: number;
}

const step: fc.Arbitrary<Step> = fc.record({
  kind: fc.nat(8),
  at: fc.nat(1_000_000),
  other: fc.nat(1_000_000),
  length: fc.nat(40),
});

/** A step of the mutator, on bytes and without a look at what they mean. */
function mutated(bytes: Buffer, donor: Buffer, { kind, at, other, length }: Step): Buffer {
  const from = at % (bytes.length + 1);
  const [head, tail] = [bytes.subarray(0, from), bytes.subarray(from)];
  switch (kind) {
    case 0: {
      const flipped = Buffer.from(bytes);
      if (from < flipped.length) flipped[from] = (flipped[from] as number) ^ (1 << (other % 8));
      return flipped;
    }
    case 1:
      return Buffer.concat([head, Buffer.from([other % 256]), tail.subarray(1)]);
    case 2:
      return Buffer.concat([head, awkward[other % awkward.length] as Buffer, tail]);
    case 3:
      return Buffer.concat([head, awkward[other % awkward.length] as Buffer, tail.subarray(length)]);
    case 4:
      return Buffer.concat([head, tail.subarray(length)]);
    case 5:
      // the same again, once or many times
      return Buffer.concat([head, ...Array.from({ length: 1 + (other % 8) }, () => tail.subarray(0, length)), tail]);
    case 6: {
      const start = other % (donor.length + 1);
      return Buffer.concat([head, donor.subarray(start, start + length), tail]);
    }
    case 7:
      return head;
    default: {
      // two lines change places
      const lines = bytes.toString('latin1').split('\n');
      const [a, b] = [at % lines.length, other % lines.length];
      [lines[a], lines[b]] = [lines[b] as string, lines[a] as string];
      return Buffer.from(lines.join('\n'), 'latin1');
    }
  }
}

/** Bytes of a file that once was right: one to twelve slips, blind to what they mean, parts of other files among them. */
export const mutants = (seeds: readonly Buffer[]): fc.Arbitrary<Buffer> =>
  fc
    .tuple(
      fc.nat(seeds.length - 1),
      fc.nat(seeds.length - 1),
      fc.array(step, { minLength: 1, maxLength: 12, size: 'max' }),
    )
    .map(([seed, donor, steps]) =>
      shownAsText(steps.reduce((bytes, one) => mutated(bytes, seeds[donor] as Buffer, one), seeds[seed] as Buffer)),
    );

/** A case that fails is shown as text. */
const shownAsText = (bytes: Buffer): Buffer =>
  Object.defineProperty(Buffer.from(bytes), fc.toStringMethod, { value: () => JSON.stringify(bytes.toString('utf8')) });
