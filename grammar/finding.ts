import type { Code } from './codes.ts';

/** A piece of one line, counted in UTF-16 units from its start; `end` is the first unit behind it. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

export const severities = ['error', 'warning', 'information', 'hint'] as const;
/** From what can't be right down to a fact that is not noted. */
export type Severity = (typeof severities)[number];

/** A change of text inside one line. */
export interface LineEdit {
  readonly span: Span;
  readonly text: string;
}

/** A way to mend a line, as the grower reads it in a menu: starts with a verb, at most 40 characters. */
export interface Mend {
  readonly title: string;
  readonly edits: readonly LineEdit[];
  /** True where the mend can't change what the line means: spelling and layout only. */
  readonly safe?: boolean;
}

/** What reading one line found out about it, without looking at any other line. */
export interface Problem {
  readonly code: Code;
  readonly severity: Severity;
  readonly span: Span;
  readonly message: string;
  readonly mends?: readonly Mend[];
}
