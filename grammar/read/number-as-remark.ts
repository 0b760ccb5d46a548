import type { Problem } from '../finding.ts';
import type { Statement } from '../statement.ts';
import { verbRow } from '../vocabulary.ts';
import { writing } from './mends.ts';

/** `fail K27 #5`: what was meant as a number is a remark here, and the line would speak of the whole batch. */
export function numberAsRemark(statement: Statement, text: string, at: number): Problem | undefined {
  const set = statement.sets.at(-1);
  const numbers = /^#(\d+)(?:\s?(?:\.\.|[-–])\s?(\d+))?\s*$/.exec(text.slice(at));
  if (!set || !numbers || verbRow(statement.verb).operand === 'scopes') return undefined;
  if (set.numbers || set.count || set.rest || set.except || text.slice(set.span.end, at).trim() !== '')
    return undefined;
  const meant = `${set.name.text}.${numbers[1]}${numbers[2] ? `..${numbers[2]}` : ''}`;
  return {
    code: 'unreadable',
    severity: 'error',
    span: { start: at, end: text.trimEnd().length },
    message: `Behind \`#\` stands a remark: for these grafts write \`${meant}\`.`,
    mends: [writing(meant, { start: set.span.start, end: text.trimEnd().length })],
  };
}
