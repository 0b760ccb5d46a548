/** Colours as the protocol sends them: five numbers a piece, none of them above 65,535 within one file's limit of lines. */
export class TokenNumbers extends Uint16Array {
  /** The protocol knows arrays only. */
  toJSON(): number[] {
    const numbers = new Array<number>(this.length);
    for (let i = 0; i < this.length; i++) numbers[i] = this[i] as number;
    return numbers;
  }
}

/** In the place of an array: every way to a client makes one of it, by `toJSON` or by copying numbers. */
export const asSent = (numbers: TokenNumbers): number[] => numbers as unknown as number[];
