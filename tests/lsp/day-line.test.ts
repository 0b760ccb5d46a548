import { describe, expect, test } from 'vitest';
import { dayLine } from '#server/lsp/day-line.ts';
import type { DayLineResult } from '#server/lsp/protocol.ts';
import { startServer } from '../support/server.ts';
import { caretIn, folderOf } from '../support/view.ts';

/** The log after the command, with the caret where it goes. */
function written(marked: string): string {
  const { text, position } = caretIn(marked);
  const { edit, caret } = dayLine(folderOf(text, '2027-04-06').view(), position.line);
  const lines = text.split('\n');
  if (edit) {
    const line = lines[edit.line] ?? '';
    lines[edit.line] = line.slice(0, edit.from) + edit.text + line.slice(edit.to);
  }
  const put = lines.join('\n').split('\n');
  put[caret.line] = `${put[caret.line]?.slice(0, caret.character)}|${put[caret.line]?.slice(caret.character)}`;
  return put.join('\n');
}

describe('today’s day line', () => {
  test('on an empty line it stands there, and the caret under it', () => {
    expect(written('2027-03-24\nopen  K26  10%\n|')).toBe('2027-03-24\nopen  K26  10%\n2027-04-06\n|');
    expect(written('|')).toBe('2027-04-06\n|');
  });

  test('on a line that is written it comes below', () => {
    expect(written('2027-03-24\nopen  K26|  10%')).toBe('2027-03-24\nopen  K26  10%\n2027-04-06\n|');
  });

  test('where today stands above already, no second one: a line to write on', () => {
    expect(written('2027-04-06\nopen  K26|  10%\n')).toBe('2027-04-06\nopen  K26  10%\n|\n');
    expect(written('2027-04-06\n|\n')).toBe('2027-04-06\n|\n');
    expect(written('2027-04-06\n2027-04-01  open  K26|  10%')).toBe('2027-04-06\n2027-04-01  open  K26  10%\n|');
  });

  test('a date on a line of work holds for that line only', () => {
    expect(written('2027-04-06  open  K26  10%\n|')).toBe('2027-04-06  open  K26  10%\n2027-04-06\n|');
  });

  test('undated work below keeps its day: today goes to the end', () => {
    expect(written('2027-03-20\nswell  K26\n|\nopen  K26  10%\n')).toBe(
      '2027-03-20\nswell  K26\n\nopen  K26  10%\n\n2027-04-06\n|\n',
    );
    expect(written('2027-03-20\nswell  K26\n|\n2027-03-24\nopen  K26  10%')).toBe(
      '2027-03-20\nswell  K26\n2027-04-06\n|\n2027-03-24\nopen  K26  10%',
    );
    expect(written('2027-03-20\n|swell  K26\ntake  K26\n\n2027-04-06\nopen  K26  10%')).toBe(
      '2027-03-20\nswell  K26\ntake  K26\n\n2027-04-06\nopen  K26  10%\n|',
    );
  });
});

test('over the protocol, on the day that is set', async () => {
  const server = await startServer({ folder: 'file:///log', settings: { today: '2027-04-06' } });
  const uri = 'file:///log/2027.graft';
  await server.open(uri, '2027-03-24\n');
  const found = await server.connection.sendRequest<DayLineResult>('graftlog/dayLine', { uri, line: 1 });
  expect(found.edit?.text).toBe('2027-04-06\n');
  expect(found.caret).toEqual({ line: 2, character: 0 });
  expect(await server.connection.sendRequest('graftlog/dayLine', { uri: 'file:///no.txt', line: 0 })).toBe(null);
  expect(await server.stop()).toBe(0);
});
