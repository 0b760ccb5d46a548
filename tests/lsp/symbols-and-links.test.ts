import { describe, expect, test } from 'vitest';
import { documentLink } from '#server/lsp/document-link.ts';
import { workspaceSymbol } from '#server/lsp/workspace-symbol.ts';
import { answerOf, folderOf } from '../support/view.ts';

describe('names of the whole folder', () => {
  const folder = folderOf({
    'nursery.graft': 'place frame\ntree T3 Pinus mugo\nbatch K26  Pinus parviflora / P. thunbergii\nbatch B26',
    '2026.graft': '2026-09-28 collect L7\n2026-10-09 graft K26.1..11\n2026-10-10 graft K26.12..20',
  });
  const named = (query: string) =>
    workspaceSymbol([folder.root], query).map(
      ({ name, containerName, location }) =>
        `${name}, ${containerName}, ${'range' in location ? folder.text(location.uri, location.range) : ''}`,
    );
  test('by a part of the name, with what it is', () => {
    expect(named('')).toEqual([
      'frame, place, nursery.graft 1: frame',
      'T3, tree · Pinus mugo, nursery.graft 2: T3',
      'K26, batch · Pinus parviflora / Pinus thunbergii, nursery.graft 3: K26',
      'B26, batch, nursery.graft 4: B26',
      'L7, lot, 2026.graft 1: L7',
    ]);
    expect(named('k6').map((line) => line.split(',')[0])).toEqual(['K26']);
    expect(named('nothing')).toEqual([]);
  });
  test('a graft by its number', () => {
    expect(named('k26.14')).toEqual(['K26.14, graft, 2026.graft 3: K26.12..20']);
  });
  test('no more than anybody reads', () => {
    const many = folderOf(Array.from({ length: 2000 }, (_, i) => `batch K${i}`).join('\n'));
    expect(workspaceSymbol([many.root], 'k')).toHaveLength(500);
  });
});

describe('links', () => {
  const links = (line: string, file = 'years/2026.graft') => {
    const folder = folderOf({ [file]: line });
    return answerOf(documentLink(folder.view())).map(
      ({ range, target, tooltip }) =>
        `${folder.text(folder.view().uri, range).replace(/^.*?\d+: /, '')} > ${target} (${tooltip})`,
    );
  };
  test('photos and weather files, from the log’s own place', () => {
    expect(links('2026-10-09 graft K26.1 photo "k26-1.jpg" photo "../bench & frame/1.jpg"')).toEqual([
      'k26-1.jpg > file:///log/years/k26-1.jpg (Open the photo)',
      '../bench & frame/1.jpg > file:///log/bench%20%26%20frame/1.jpg (Open the photo)',
    ]);
    expect(links('weather "station.csv" in frame', 'log.graft')).toEqual([
      'station.csv > file:///log/station.csv (Open the weather file)',
    ]);
  });
  test('nothing outside the folder, no other machine, no command', () => {
    for (const path of [
      '../../secret.jpg',
      '/etc/passwd',
      'C:\\photo.jpg',
      'https://example.org/x.jpg',
      'command:quit',
      '\\\\host\\x',
    ])
      expect(links(`2026-10-09 graft K26.1 photo "${path}"`)).toEqual([]);
  });
});
