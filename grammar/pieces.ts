import type { IToken } from 'chevrotain';
import type { Meaning } from './vocabulary.ts';

export interface RawTaxon {
  readonly tokens: readonly IToken[];
}

/** The pieces a line falls into. What they mean, and whether they may stand there, is read afterwards. */
export type Piece =
  | {
      readonly kind: 'set';
      readonly head: IToken;
      readonly rest: boolean;
      /** Where `except` stands: what it leaves out, and a bare figure that can't be that. */
      readonly except?: { readonly word: IToken; readonly sets: readonly IToken[]; readonly figure?: IToken };
      readonly count?: IToken;
      readonly end: number;
    }
  | { readonly kind: 'taxa'; readonly taxa: readonly RawTaxon[] }
  | { readonly kind: 'keyed'; readonly key: IToken; readonly value: readonly IToken[] }
  | { readonly kind: 'word'; readonly token: IToken; readonly meaning: Meaning }
  | { readonly kind: 'codes'; readonly words: readonly IToken[] }
  /** `bad-name`: a figure where a name is due, `2601`. */
  | { readonly kind: 'value' | 'text' | 'stray' | 'bad-name'; readonly tokens: readonly IToken[] };
