import type { Span } from '../finding.ts';
import type { Fact, Name, Value } from '../statement.ts';
import type { Key } from '../vocabulary.ts';

/*
 * Facts and names as they are kept. A long log holds a million of them, so where each stands is kept as figures, and its
 * spans are made when they are asked for: two objects less to each fact, 0.6 of 2.1 KB to a graft line. As text
 * they are what their types say.
 */

/** A fact where it stands: its key from `start`, its value from `valueStart`, both up to `end`. */
class PlacedFact implements Fact {
  readonly key: Key;
  readonly value: Value;
  declare readonly lost?: Fact['lost'];
  private readonly start: number;
  private readonly valueStart: number;
  private readonly end: number;

  constructor(key: Key, value: Value, start: number, valueStart: number, end: number, lost: Fact['lost']) {
    this.key = key;
    this.value = value;
    this.start = start;
    this.valueStart = valueStart;
    this.end = end;
    if (lost) this.lost = lost;
  }

  get span(): Span {
    return { start: this.start, end: this.end };
  }

  get valueSpan(): Span {
    return { start: this.valueStart, end: this.end };
  }

  toJSON(): Fact {
    const { key, value, span, valueSpan, lost } = this;
    return { key, value, span, valueSpan, lost };
  }
}

class PlacedName implements Name {
  readonly text: string;
  readonly key: string;
  private readonly start: number;
  private readonly end: number;

  constructor(text: string, key: string, start: number, end: number) {
    this.text = text;
    this.key = key;
    this.start = start;
    this.end = end;
  }

  get span(): Span {
    return { start: this.start, end: this.end };
  }

  toJSON(): Name {
    const { text, key, span } = this;
    return { text, key, span };
  }
}

/** @param valueStart where its value begins; of a word without a key that is where it begins itself */
export const factAt = (
  key: Key,
  value: Value,
  { start, end }: Span,
  valueStart: number = start,
  lost?: Fact['lost'],
): Fact => new PlacedFact(key, value, start, valueStart, end, lost);

/** The same fact, which takes no part: it was read, and lies beyond what is plausible. */
export const slippedFact = ({ key, value, span, valueSpan }: Fact): Fact =>
  factAt(key, value, span, valueSpan.start, 'slipped');

export const nameFrom = (text: string, key: string, start: number, end: number): Name =>
  new PlacedName(text, key, start, end);
