import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { allCodes, codes } from '#grammar/codes.ts';
import { parseIso } from '#grammar/values/date.ts';
import { Answers } from '#server/engine/answers.ts';
import { Log } from '#server/engine/log.ts';

const folder = new URL('../grammar/pages/', import.meta.url);
const practice = new URL('../server/engine/practice.graft', import.meta.url);
const shipped = new Set(readFileSync(practice, 'utf8').split('\n'));

interface Page {
  readonly text: string;
  readonly day: number;
  readonly before: string;
  readonly after: string;
  /** The practice lines it quotes. */
  readonly quoted: readonly string[];
}

function pageOf(code: string): Page {
  const text = readFileSync(new URL(`${code}.md`, folder), 'utf8');
  const logs = [...text.matchAll(/^```graft\n(.*?)^```$/gms)].map((block) => block[1] ?? '');
  const days = [...text.matchAll(/^On (\d{4}-\d\d-\d\d), before:$/gm)].map((line) => line[1] ?? '');
  expect(days, 'one day it is computed for').toHaveLength(1);
  expect(logs, 'two logs, before and after').toHaveLength(2);
  const quoted = [...text.matchAll(/^> `(.*)`$/gm)].map((line) => line[1] ?? '');
  return { text, day: parseIso(days[0] ?? '') as number, before: logs[0] ?? '', after: logs[1] ?? '', quoted };
}

function findingsOf(text: string, day: number) {
  const log = new Log();
  log.addFile('page.graft', text);
  return [...new Answers(log, day).findings()];
}

test('every code has its page, and no page is left over', () => {
  const pages = readdirSync(folder).map((file) => file.replace(/\.md$/, ''));
  expect(pages.sort()).toEqual([...allCodes].sort());
});

describe.each(allCodes)('%s', (code) => {
  const { found, severity, title } = codes[code];
  const page = pageOf(code);

  test('is headed as the table has it, and short', () => {
    const lines = page.text.trimEnd().split('\n');
    expect(lines[0]).toBe(`# \`${code}\`: ${title}`);
    expect(page.text.toLowerCase()).toContain(`\n**${severity}`);
    expect(lines.length).toBeGreaterThanOrEqual(20);
    expect(lines.length).toBeLessThanOrEqual(45);
  });

  test('before gives its code and no other, after gives nothing', () => {
    const before = findingsOf(page.before, page.day);
    expect(before.map((finding) => finding.code)).toEqual([code]);
    expect(findingsOf(page.after, page.day).map((finding) => `${finding.code}: ${finding.message}`)).toEqual([]);
    // a page that speaks of the mend has one to offer
    if (/\b(the|a) mend\b/i.test(page.text)) expect(before[0]?.mends ?? []).not.toEqual([]);
  });

  test('quotes practice as it is shipped, and says where it is from', () => {
    for (const line of page.quoted) expect(shipped).toContain(line);
    if (found === 'practice' || found === 'attention')
      expect(page.text).toMatch(/^\*\*Where the figure comes from\.\*\* \S/m);
  });
});

test('no page gives a dose', () => {
  for (const code of allCodes) expect(pageOf(code).text).not.toMatch(/\d\s*(ml|g|l|kg|oz)\b/i);
});
