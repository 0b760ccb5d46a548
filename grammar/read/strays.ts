import type { IToken } from 'chevrotain';
import type { Problem } from '../finding.ts';
import { isWord } from '../lookahead.ts';
import { end } from '../sort-words.ts';
import { Count, Cultivar, DateWord, Grafts, OtherDate, Slash, Span as SpanToken, Times } from '../tokens.ts';
import {
  asked,
  factsOf,
  gone,
  keyRow,
  nearest,
  type Verb,
  type VerbRow,
  verbRow,
  verbWords,
  wordsOf,
} from '../vocabulary.ts';
import { spanOf } from './dates.ts';
import { writing } from './mends.ts';
import { noCause } from './no-cause.ts';
import { noText } from './no-text.ts';

/** A piece that fits nowhere on its verb's line. */
export function strayPiece(tokens: readonly IToken[], verb: Verb, genera: readonly string[]): Problem {
  const token = tokens[0] as IToken;
  if (isWord(token)) return strayWord(token, tokens[1], verb, genera);
  const row = verbRow(verb);
  const span = { start: token.startOffset, end: end(tokens.at(-1) as IToken) };
  return { code: 'unreadable', severity: 'error', span, message: markMessage(token, verb, row, genera) };
}

function markMessage({ image, tokenType }: IToken, verb: Verb, row: VerbRow, genera: readonly string[]): string {
  switch (tokenType) {
    case Cultivar:
      if (!row.taxa) return `A line with \`${verb}\` names no plants; a remark stands in double quotes.`;
      return genera.length > 0
        ? 'A second cultivar: one stands behind each plant.'
        : "A cultivar stands behind its plant: `Pinus parviflora 'Tenysu'`.";
    case DateWord:
    case OtherDate:
      return 'The date comes first on a line.';
    case Grafts:
      return `\`${image}\`: a line with \`${verb}\` names no grafts here.`;
    case SpanToken: {
      const [first = '', last = ''] = image.split('..');
      return `\`${image}\`: sets are named one by one, \`${first} ${last}\`; only numbers run on, \`${first}.1..12\`.`;
    }
    case Count:
    case Times:
      return 'A count is written `x60`, right behind its set.';
    case Slash:
      return 'A pair is written `scion / understock`, a plant at both sides.';
    default:
      if (/^\.+$/.test(image)) return 'Behind the dot of a set comes a number: `K26.1`, `K26.1..12`.';
      return noText(image) ?? `\`${image}\` can’t be read here.`;
  }
}

function strayWord(token: IToken, value: IToken | undefined, verb: Verb, genera: readonly string[]): Problem {
  const { image } = token;
  const span = spanOf(token);
  const row = verbRow(verb);
  const problem = (message: string, mends: Problem['mends'] = []): Problem => ({
    code: 'unknown-word',
    severity: 'error',
    span,
    message,
    ...(mends.length > 0 ? { mends } : {}),
  });
  const words = wordsOf(verb);
  if (row.operand === 'sets' && (image === 'rest' || image === 'except'))
    return {
      ...problem(
        `\`${image}\` stands right behind its set: \`${verb} K26 ${image === 'rest' ? image : 'except K26.3'}\`.`,
      ),
      code: 'unreadable',
    };
  const options = (asked.get(image) ?? []).filter((key) => factsOf(verb).includes(key));
  if (options.length > 0)
    return problem(
      `\`${image}\` could be two things: is it ${options.map((key) => `\`${key}\``).join(' or ')}?`,
      options.map((key) => writing(key, span)),
    );
  const small = image.charAt(0).toLowerCase() + image.slice(1);
  if (small !== image && words.has(small))
    return problem(`\`${image}\` is written small: \`${small}\`.`, [writing(small, span)]);
  const sentence = verb === 'practice' ? gone.get(image) : undefined;
  if (sentence !== undefined) {
    const whole = value ? { start: span.start, end: end(value) } : span;
    const text = sentence.replace(/\{(.*?)\}/, value ? value.image : '$1');
    return problem(`\`${image}\` is written as a sentence: \`${text}\`.`, [writing(text, whole)]);
  }
  if (verb === 'move' && (image === 'in' || image === 'onto'))
    return problem(`\`move\` says where to with \`to\`: \`to ${value?.image ?? 'frame'}\`.`, [writing('to', span)]);
  if (row.taxa && image === 'on' && genera.length > 0)
    return problem('A pair is written with a slash: `scion / understock`.', [writing('/', span)]);
  const key = factsOf(verb).find((fact) => keyRow(fact).choices?.includes(image));
  if (key)
    return problem(`\`${image}\` stands behind its word: \`${key} ${image}\`.`, [writing(`${key} ${image}`, span)]);
  const cause = noCause(image, verb);
  // `fail K26.3 died` says the verb twice
  const near = cause && verbWords.get(image) === verb ? undefined : nearest(image, words.keys());
  if (near === undefined) return problem(cause ?? `\`${image}\` is no word for a line with \`${verb}\`.`);
  const meaning = words.get(near);
  const hyphened = meaning?.class === 'flag' && meaning.key.replaceAll('-', '') === near ? meaning.key : near;
  return problem(`\`${image}\` is no word for a line with \`${verb}\`. Is it \`${hyphened}\`?`, [
    writing(hyphened, span),
  ]);
}
