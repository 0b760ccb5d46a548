import { describe, expect, test } from 'vitest';
import { codes } from '#grammar/codes.ts';
import { factOffers, valueOffers, verbOffers } from '#grammar/completion-data.ts';
import { readLine } from '#grammar/line.ts';
import {
  allKeys,
  allVerbs,
  causes,
  checkFlags,
  factsOf,
  type Key,
  keyRow,
  methods,
  type Verb,
  verbRow,
  verbWords,
  wordsOf,
} from '#grammar/vocabulary.ts';
import { problemsIn } from '../support/reading.ts';

/** The shortest line of each verb that says something, to which a fact can be added. */
const begun: Partial<Record<Verb, string>> = {
  graft: 'graft K26.1',
  move: 'move K26',
  cover: 'cover frame',
  open: 'open K26',
  headback: 'headback K26',
  reading: 'reading frame',
  practice: 'practice any',
  accept: 'accept cut-deep',
  weather: 'weather "station.csv"',
  pair: 'pair Pinus parviflora / Pinus thunbergii',
  collect: 'collect L7',
  site: 'site Drumlin-Lane',
  place: 'place frame',
  tree: 'tree T3',
  batch: 'batch K26',
};
/** What a line must have beside the fact tried. */
const beside: Partial<Record<Verb, string>> = {
  open: '20%',
  headback: '1/3',
  move: 'to frame',
  cover: 'shade',
  reading: 'min 1C',
  pair: 'good',
};
/** A condition of a practice line, with a rule it may stand beside. */
const ruled: Partial<Record<Key, string>> = {
  work: 'work look  after word  wait 7..14d',
  earliest: 'earliest take  after graft  wait 42d',
  after: 'work look  after word  wait 7..14d',
  wait: 'work look  after word  wait 7..14d',
  till: 'work look  after word  wait 7..14d  till mar-31',
  stands: 'stands 14d  after dry',
};

function lineWith(verb: Verb, key: Key): string {
  const { example } = keyRow(key);
  const start = begun[verb] ?? `${verb} K26`;
  if (verb === 'practice') {
    if (ruled[key]) return `${start}  ${ruled[key]}`;
    const written = key === 'short' ? 'short ..40%' : key === 'scion' ? 'scion 50mm..' : example;
    return /^(cut|long|needs)\b/.test(written) ? `${start}  ${written}` : `${start}  ${written}  needs humid`;
  }
  const written = verb === 'sell' && key === 'to' ? 'to "garden centre"' : example;
  const more = beside[verb];
  const already = more !== undefined && (more.split(' ')[0] === key || key === 'share' || key === 'word');
  return [start, ...(more && !already ? [more] : []), written].join('  ');
}

test('every verb’s example reads as that verb, without a word about it', () => {
  for (const verb of allVerbs) {
    const line = readLine(verbRow(verb).example);
    expect(line.problems, verb).toEqual([]);
    expect(line.statement?.verb).toBe(verb);
  }
});

test('every fact a verb takes can be written on its line', () => {
  let tried = 0;
  for (const verb of allVerbs)
    for (const key of factsOf(verb)) {
      const text = key === 'amount' ? `${begun[verb] ?? `${verb} frame`}  10min` : lineWith(verb, key);
      const line = readLine(text);
      expect(line.problems, text).toEqual([]);
      expect(
        line.statement?.facts.map((fact) => fact.key),
        text,
      ).toContain(key);
      tried++;
    }
  expect(tried).toBeGreaterThan(200);
});

test('every other word for a verb or a fact is read as it, silently', () => {
  for (const verb of allVerbs)
    for (const word of verbRow(verb).also ?? []) {
      const text = verbRow(verb).example.replace(verb, word);
      expect(readLine(text).statement?.verb, text).toBe(verb);
      expect(problemsIn(text), text).toEqual([]);
    }
  for (const verb of allVerbs)
    for (const key of factsOf(verb))
      for (const word of keyRow(key).also ?? []) {
        const text = lineWith(verb, key).replace(new RegExp(`\\b${key}\\b`), word);
        expect(
          readLine(text).statement?.facts.map((fact) => fact.key),
          text,
        ).toContain(key);
        expect(problemsIn(text), text).toEqual([]);
      }
});

test('every choice stands without its key where it may', () => {
  const text: [string, string, readonly string[]][] = [
    ['graft K26.1', 'side', ['under', 'left', 'right', 'top']],
    ['graft K26.1', 'wood', ['ripened', 'soft', 'old']],
    ['graft K26.1', 'method', methods],
    ['fail K26', 'cause', causes],
    ['pair Acer palmatum / Acer rubrum', 'word', ['good', 'fair', 'poor', 'never']],
  ];
  for (const [start, key, words] of text)
    for (const word of words)
      expect(readLine(`${start}  ${word}`).statement?.facts, word).toMatchObject([
        { key, value: { kind: 'word', word } },
      ]);
  for (const flag of checkFlags)
    expect(readLine(`check K26  ${flag}`).statement?.facts).toMatchObject([{ key: flag, value: { kind: 'flag' } }]);
});

test('what is plausible holds at its edges and not beyond', () => {
  // one step past an edge, in the fact's unit
  const units: Partial<Record<string, readonly [string, number]>> = {
    length: ['mm', 1],
    share: ['%', 0.01],
    depth: ['%', 0.01],
    temperature: ['C', 1],
    duration: ['d', 1],
    count: ['', 1],
    number: ['', 1],
    stage: ['', 1],
  };
  let tried = 0;
  for (const verb of allVerbs)
    for (const key of factsOf(verb)) {
      const row = keyRow(key);
      const [unit, step] = units[row.with?.[verb]?.value ?? row.value] ?? [];
      if (verb === 'practice' || !row.plausible || unit === undefined || step === undefined) continue;
      if (key === 'share' || key === 'count') continue;
      const figure = (value: number) => `${Math.round(unit === '%' ? value * 100 : value)}${unit}`;
      const codesOf = (value: number) => {
        const more = beside[verb];
        const text = `${begun[verb] ?? `${verb} K26`}  ${more?.startsWith(key) ? '' : (more ?? '')}  ${key} ${figure(value)}`;
        return readLine(text).problems.map((problem) => problem.code);
      };
      const [low, high] = row.plausible;
      expect([codesOf(low), codesOf(high)], `${verb} ${key}`).toEqual([[], []]);
      expect(codesOf(high + step), `${verb} ${key}`).toEqual(['unit-slip']);
      if (low - step >= 0 || unit === 'C') expect(codesOf(low - step), `${verb} ${key}`).toEqual(['unit-slip']);
      tried++;
    }
  expect(tried).toBeGreaterThan(30);
});

describe('the one table', () => {
  test('a word means one thing on a line', () => {
    for (const verb of allVerbs) {
      const keys = factsOf(verb);
      expect(new Set(keys).size, verb).toBe(keys.length);
      const written = keys.flatMap((key) => [key, ...(keyRow(key).also ?? [])]);
      expect(new Set(written).size, verb).toBe(written.length);
      for (const [word, meaning] of wordsOf(verb))
        if (meaning.class === 'choice') expect(keyRow(meaning.key).choices, word).toContain(meaning.word);
    }
  });

  test('every fact belongs to some verb, every verb word to one verb', () => {
    const used = new Set(allVerbs.flatMap((verb) => factsOf(verb)));
    expect(allKeys.filter((key) => !used.has(key))).toEqual([]);
    const words = allVerbs.flatMap((verb) => [verb, ...(verbRow(verb).also ?? [])]);
    expect(verbWords.size).toBe(words.length);
  });

  test('help is a sentence, an example fits its fact', () => {
    for (const row of [...allVerbs.map(verbRow), ...allKeys.map(keyRow)]) expect(row.help).toMatch(/^[A-Z“].*[.]$/);
  });
});

test('completion offers verbs, and of a verb’s facts those not yet given', () => {
  expect(verbOffers().map((offer) => offer.label)).toEqual(allVerbs);
  const labels = factOffers('graft', new Set<Key>(['cut', 'side', 'photo'])).map((offer) => offer.label);
  expect(labels).toEqual(expect.arrayContaining(['long', 'cleft', 'frost-free', 'photo', 'by']));
  expect(labels).not.toContain('cut');
  expect(labels).not.toContain('under');
  expect(factOffers('open', new Set()).map((offer) => offer.label)).toEqual(['by', 'photo', 'accept']);
  expect(factOffers('batch', new Set()).find((offer) => offer.label === 'cut')?.snippet).toBe(`cut \${1:40%}`);
});

test('completion offers the words that fit behind a key, and for whom a rule is', () => {
  const labels = (key: Key) => valueOffers(key).map((offer) => offer.label);
  expect(labels('match')).toEqual(['both', 'one', 'none']);
  expect(labels('needs')).toEqual(['frost-free', 'shade', 'wind-break', 'humid', 'none']);
  expect(labels('after')).toEqual(expect.arrayContaining(['graft', 'first-swell', 'judge', 'mould', 'word']));
  expect(labels('accept')).toContain('cut-deep');
  // an error is never accepted
  expect(labels('accept')).not.toContain('contradiction');
  expect(labels('cut')).toEqual([]);
  const rule = factOffers('practice', new Set()).map((offer) => offer.label);
  expect(rule).toEqual(
    expect.arrayContaining(['any', 'detached', 'side-veneer', 'needle', 'cut', 'frost-free', 'work']),
  );
  // each word offered can be read where it is offered
  for (const key of ['work', 'after', 'needs', 'off', 'task'] as const)
    for (const word of labels(key)) {
      const rest = { work: 'after graft wait 7d', after: 'work look wait 7d', needs: '', off: '', task: '' }[key];
      const text = `practice any ${key} ${word}${key === 'task' ? ' 1min' : ''} ${rest}`;
      expect(problemsIn(text), text).toEqual([]);
    }
});

test('each code that one line can have is held by a test here', async () => {
  const { readFile, readdir } = await import('node:fs/promises');
  const folder = new URL('.', import.meta.url);
  const texts = await Promise.all((await readdir(folder)).map((name) => readFile(new URL(name, folder), 'utf8')));
  const all = texts.join('\n');
  const missing = Object.entries(codes)
    .filter(([code, row]) => row.found === 'line' && !new RegExp(`(?:error|warning) ${code}: `).test(all))
    .map(([code]) => code);
  expect(missing).toEqual([]);
});
