import jsQR from 'jsqr';
import { describe, expect, test } from 'vitest';
import { Answers } from '#server/engine/answers.ts';
import { type Labelled, labelled } from '#server/engine/labelled.ts';
import { type CodeKind, labelCode } from '#server/report/label-code.ts';
import { type LabelSize, type LabelSizeName, labelSizes } from '#server/report/label-sizes.ts';
import { labelSheets } from '#server/report/labels.ts';
import { dayOf, logOf } from '../support/log.ts';

const log = `place  frame  frost-free shade wind-break
tree   T14  Pinus mugo
batch  K26  Pinus parviflora 'Tenysu' / Pinus thunbergii  side-veneer  film 38mm  in frame
batch  S27  Abies koreana 'Horstmann's Silberlocke' / Abies nordmanniana  side-veneer  in frame
batch  V27  Pinus parviflora var. pentaphylla / Pinus × densithunbergii  side-veneer  in frame
2026-10-09
graft  K26.1..12  cut 40%  whorls 2  by mk
2026-10-10
graft  K26.13..90  cut 40%  whorls 2  by jo
graft  S27 x100
2027-03-30
fail   K26.5  dried
take   K26.6..8
sell   K26.6
`;
function found(of: string, text = log, tray?: number) {
  return labelled(new Answers(logOf(text, '2027-04-06').log, dayOf('2027-04-06')), of, tray);
}
function labels(of: string, text = log, tray?: number): readonly Labelled[] {
  const result = found(of, text, tray);
  if (typeof result === 'string') throw new Error(result);
  return result.labels;
}
const html = (of: string, size: LabelSizeName = 'label', kind: CodeKind = 'text', text = log) =>
  labelSheets(labels(of, text), size, kind).html;
const numbers = (of: string) => labels(of).map(({ number }) => number);

/** What a reader makes of the drawing itself: its runs put down as pixels, eight to a module. */
function scanned(svg: string): string | undefined {
  const side = Number(/viewBox="0 0 (\d+) /.exec(svg)?.[1]);
  const wide = side * 8;
  const pixels = new Uint8ClampedArray(wide * wide * 4).fill(255);
  for (const [, x, y, run] of svg.matchAll(/M(\d+) (\d+)h(\d+)v1h-\3z/g))
    for (let row = Number(y) * 8; row < Number(y) * 8 + 8; row++)
      for (let at = Number(x) * 8; at < (Number(x) + Number(run)) * 8; at++)
        pixels.fill(0, (row * wide + at) * 4, (row * wide + at) * 4 + 3);
  const read = jsQR(pixels, wide, wide);
  return read ? new TextDecoder().decode(Uint8Array.from(read.binaryData)) : undefined;
}
const svgs = (page: string) => page.match(/<svg[\s\S]*?<\/svg>/g) ?? [];

describe('the code', () => {
  test('read back from the drawing by a reader that is not ours: number first, then day and plants', () => {
    const codes = svgs(html('K26.10..14'));
    expect(codes.map(scanned)).toEqual([
      "K26.10 2026-10-09 Pinus parviflora 'Tenysu' / Pinus thunbergii",
      "K26.11 2026-10-09 Pinus parviflora 'Tenysu' / Pinus thunbergii",
      "K26.12 2026-10-09 Pinus parviflora 'Tenysu' / Pinus thunbergii",
      "K26.13 2026-10-10 Pinus parviflora 'Tenysu' / Pinus thunbergii",
      "K26.14 2026-10-10 Pinus parviflora 'Tenysu' / Pinus thunbergii",
    ]);
  });

  test('signs beyond ASCII, too', () => {
    const [code] = svgs(html('V27.3', 'tree', 'text', `${log}graft V27.3 cut 40%\n`));
    expect(scanned(code ?? '')).toBe('V27.3 2027-03-30 Pinus parviflora var. pentaphylla / P. × densithunbergii');
  });

  test('of every size that has one, what it says is what it was to say', () => {
    for (const size of Object.keys(labelSizes) as LabelSizeName[]) {
      const row: LabelSize = labelSizes[size];
      const [label] = labels('K26.12');
      const code = labelCode(label as Labelled, row, 'text');
      expect(Boolean(code), size).toBe(Boolean(row.code));
      if (!row.code || !code) continue;
      expect(scanned(svgs(html('K26.12', size))[0] ?? ''), size).toBe(code.text);
      expect(code.text, size).toMatch(/^K26\.12 2026-10-09\b/);
      // half a millimetre a module, four of quiet zone
      expect(row.code.side / code.modules.length, size).toBeGreaterThanOrEqual(0.5);
      const rim = code.modules.filter(
        (line, y) => y < 4 || y >= code.modules.length - 4 || line.slice(0, 4).includes(true),
      );
      expect(rim.flat().includes(true), size).toBe(false);
    }
  });

  test('as a link it is the address that Go to graft takes', () => {
    for (const size of ['label', 'loop', 'tree'] as const)
      expect(scanned(svgs(html('K26.12', size, 'link'))[0] ?? ''), size).toBe(
        'vscode://graft-log.graftlog/graft/K26.12',
      );
    expect(svgs(html('K26.12', 'label', 'none'))).toEqual([]);
  });

  test('a number too long for a code is printed without one, and that is said', () => {
    const long = log.replaceAll('K26', `K${'x'.repeat(300)}`);
    const sheets = labelSheets(labels(`K${'x'.repeat(300)}.1..3`, long), 'label', 'text');
    expect(sheets.withoutCode).toBe(3);
    expect(svgs(sheets.html)).toEqual([]);
    expect(sheets.html).toContain(`<b>K${'x'.repeat(300)}.1</b>`);
  });
});

describe('the words', () => {
  test('genus and epithet italic, the cultivar upright in single quotes, the stock’s genus short where it is the scion’s', () => {
    expect(html('K26.12')).toContain(
      '<p class="name"><i lang="la">Pinus parviflora</i> <span class="cultivar">‘Tenysu’</span></p>' +
        '<p class="stock">/ <i lang="la">P.&nbsp;thunbergii</i></p></div>' +
        '<p class="number"><b>K26.12</b> <span>2026-10-09</span></p>',
    );
    expect(html('S27 x1')).toContain('‘Horstmann’s Silberlocke’');
  });

  test('rank and the sign of a hybrid stand upright', () => {
    const page = html('V27.1', 'loop', 'text', `${log}graft V27.1 cut 40%\n`);
    expect(page).toContain('<i lang="la">Pinus parviflora</i> var. <i lang="la">pentaphylla</i>');
    expect(page).toContain('/ <i lang="la">P.</i> × <i lang="la">densithunbergii</i>');
  });

  test('long names: the stock smaller, then short, then cut; the cultivar and the number never', () => {
    const long = log
      .replace("'Tenysu'", "'A Cultivar With A Name That Goes On For Longer Than Any Label'")
      .replace('Pinus thunbergii', 'Pseudotsuga menziesiiandmuchlongerthananyepithetever');
    const page = html('K26.12', 'label', 'text', long);
    expect(page).toContain('<p class="name small long"><i lang="la">P.&nbsp;parviflora</i>');
    expect(page).toContain('‘A Cultivar With A Name That Goes On For Longer Than Any Label’');
    expect(page).toMatch(/<p class="stock small">\/ <i lang="la">P\. menziesii\p{L}+…<\/i><\/p>/u);
    expect(page).toContain('<b>K26.12</b>');
    expect(scanned(svgs(page)[0] ?? '')).toBe('K26.12 2026-10-09 P. parviflora');
  });

  test('of a long stock the cultivar goes before the name is cut', () => {
    const stock = "Pinus thunbergii 'Some Selection Of Understock Or Other'";
    expect(html('K26.12', 'label', 'text', log.replace('Pinus thunbergii', stock))).toContain(
      '<p class="stock small">/ <i lang="la">P. thunbergii …</i></p>',
    );
  });

  test('hostile words are text and nothing else; the page asks for nothing', () => {
    const text = log.replace("'Tenysu'", "'<script>alert(1)</script>'").replace('Pinus thunbergii', 'Pinus \u202eשלום');
    const page = html('K26.1..12', 'label', 'text', text);
    expect(page).not.toMatch(/<script/i);
    expect(page).toContain('&#60;script&#62;');
    expect(page).not.toMatch(/[\u202a-\u202e]/);
    expect(page).not.toMatch(/(?:src|href)=/);
    expect(page).toContain("default-src 'none'");
  });
});

describe('which grafts', () => {
  test('of the whole batch those living and here, by number; of named ones the sold, too', () => {
    expect(numbers('K26')).toHaveLength(88);
    expect(numbers('K26').slice(3, 7)).toEqual(['K26.4', 'K26.7', 'K26.8', 'K26.9']);
    expect(numbers('K26.4..7')).toEqual(['K26.4', 'K26.6', 'K26.7']);
    expect(found('K26.4..7')).toMatchObject({ remarks: ['K26.5 was lost and gets no label.'] });
    expect(numbers('K26 except K26.9..90')).toEqual(['K26.1', 'K26.2', 'K26.3', 'K26.4', 'K26.7', 'K26.8']);
    expect(numbers('K26.6..10 rest')).toEqual(['K26.9', 'K26.10']);
  });

  test('unnamed ones by count', () => {
    expect(numbers('S27')).toHaveLength(100);
    expect(numbers('S27 x3')).toEqual(['S27', 'S27', 'S27']);
  });

  test('those still to be made, without a day', () => {
    expect(labels('V27.1..2')).toMatchObject([{ number: 'V27.1' }, { number: 'V27.2' }]);
    expect(found('V27.1..2')).toMatchObject({ remarks: ['V27.1,2 are not made yet: no date is printed.'] });
    expect(found('V27')).toBe('Nothing of V27 is made yet: name the numbers, V27.1..40.');
  });

  test('forty to a tray, those of one day together', () => {
    expect(labels('K26', log, 40).map(({ number, count, tray }) => [number, count, tray])).toEqual([
      ['K26.1..4,7..12', 10, 'tray 1 of 3'],
      ['K26.13..52', 40, 'tray 2 of 3'],
      ['K26.53..90', 38, 'tray 3 of 3'],
    ]);
    expect(labels('S27', log, 40).map(({ number, count }) => [number, count])).toEqual([
      ['S27', 40],
      ['S27', 40],
      ['S27', 20],
    ]);
  });

  test('what is no set, no batch, or too many is said in a sentence', () => {
    expect(found('K26.')).toMatch(/is no set of grafts/);
    expect(found('K26 20%')).toMatch(/is no set of grafts/);
    expect(found('K26\nfail K26')).toMatch(/is no set of grafts/);
    expect(found('K2.1')).toBe('There is no batch K2 in this log: is it K26?');
    expect(found('frame')).toBe('There is no batch frame in this log.');
    expect(found('S27.1..4')).toMatch(/were counted, not numbered/);
    expect(found('V27.1..20000')).toBe('These are 20000 labels; at most 10000 go into a file.');
    expect(found('K26.5')).toBe('No graft of K26.5 is left to label. K26.5 was lost and gets no label.');
  });
});

test('two thousand labels are one file of a few megabytes, 61 sheets of 33', () => {
  const many = log.replace('graft  S27 x100', 'graft  S27.1..2000');
  const { html: page, sheets } = labelSheets(labels('S27', many), 'label', 'text');
  expect(sheets).toBe(61);
  expect(page.match(/<svg/g)?.length).toBe(2000);
  expect(page.length).toBeLessThan(10_000_000);
  expect(scanned(svgs(page)[1999] ?? '')).toMatch(/^S27\.2000 2026-10-10 /);
});
