import { describe, expect, test } from 'vitest';
import { cutHover } from '#server/lsp/hover-cut.ts';
import type { Host } from '#server/workspace/host.ts';
import { Root } from '#server/workspace/root.ts';
import { dayOf } from '../support/log.ts';

/** Nothing is read here: the log is given as text. */
const host = { today: () => dayOf('2027-04-06') } as unknown as Host;

/** The lines over `cut` on the log's last line, plain blanks; the drawing by its words alone. */
function hover(facts: string, more = '', method = 'side-veneer'): string[] {
  const root = new Root('file:///log', host, true);
  root.log.addFile(
    'log.graft',
    `site Drumlin-Lane lat 47.90\nplace frame frost-free shade wind-break\n${more}batch K26  Pinus parviflora / Pinus thunbergii  ${method}  film  in frame\n2026-10-09  graft  K26.1..11  ${facts}\n`,
  );
  const document = root.log.document('log.graft');
  const entry = document?.entries.findLast((one) => one.line.statement?.verb === 'graft');
  if (!document || !entry) throw new Error('no line');
  const view = { root, uri: 'file:///log/log.graft', file: 'log.graft', document, theme: 'light' as const };
  return cutHover(view, entry, true).map((line) =>
    line.replaceAll('\u00A0', ' ').replace(/^!\[([^\]]*)\]\(.*\)$/, 'drawn: $1'),
  );
}

describe('over `cut`', () => {
  test('a share of a diameter: all of it', () => {
    const [practiceLine, ...lines] = hover('cut 40%  stock 9mm  scion 4mm x 90mm  long 30mm').reverse();
    expect(lines.reverse()).toEqual([
      '**Cut 40 % of 9 mm: 3.6 mm deep**',
      'drawn: Cross-section of a 9 mm branch cut 3.6 mm deep, face 8.8 mm wide, with a 4 mm scion: one edge meets',
      'Face, at the bottom of the cut: 8.8 mm wide',
      'Wood cut through: 37 %',
      'Strength left in bending: 37 % of an uncut, ideal round branch',
      'Scion of 4 mm: one edge meets, 30 mm of cambium; both would at 0.5 mm deep',
    ]);
    expect(practiceLine?.split(' (')[0]).toBe('Practice: 10 to 50 %');
  });

  test('the practice is that of these very grafts: on a branch, and the nursery’s own', () => {
    const last = (lines: readonly string[]) => lines.at(-1)?.split(' (')[0];
    expect(last(hover('cut 40%  stock 9mm  under'))).toBe('Practice: 30 to 50 %');
    expect(last(hover('cut 40%', 'practice K26 cut ..35%\n'))).toBe('Practice: up to 35 %');
    expect(last(hover('cut 40%', 'practice K26 cut 3..4mm\n'))).toBe('Practice: 3 to 4 mm');
  });

  test('a depth in mm says the same', () => {
    expect(hover('cut 3.6mm  stock 9mm  scion 4mm x 90mm').slice(0, 5)).toEqual(
      hover('cut 40%  stock 9mm  scion 4mm x 90mm').slice(0, 5),
    );
  });

  test('as wide as the face both edges can meet, and twice the face’s length of cambium', () => {
    expect(hover('cut 40%  stock 9mm  scion 8mm x 90mm  long 30mm')).toContain(
      'Scion of 8 mm: both edges can meet, 60 mm of cambium',
    );
    expect(hover('cut 10%  stock 6mm  scion 8mm x 90mm')).toContain(
      'Scion of 8 mm: one edge meets; it is wider than the branch',
    );
  });

  test('the nursery’s own line on how wide a scion may be holds here as it does in findings', () => {
    const own = 'practice side-veneer match-ratio 0.4..1.3\n';
    expect(hover('cut 40%  stock 9mm  scion 4mm x 90mm', own)).toContain('Scion of 4 mm: both edges can meet');
    // no such rule, nothing said, and no scion drawn
    const none = hover('cut 40%  stock 9mm  scion 4mm x 90mm', 'practice side,side-veneer match-ratio none\n');
    expect(none.some((line) => line.startsWith('Scion'))).toBe(false);
    expect(none[1]).toBe('drawn: Cross-section of a 9 mm branch cut 3.6 mm deep, face 8.8 mm wide');
  });

  test('an interval is told by its middle; both edges have to meet at all of its ends', () => {
    expect(hover('cut 35..45%  stock 8..10mm  scion 4mm x 90mm')[0]).toBe('**Cut 40 % of 9 mm: 3.6 mm deep**');
    expect(hover('cut 10..40%  stock 9mm  scion 8mm x 90mm').join(' ')).toContain('one edge meets');
  });

  test('inches are told in mm', () => {
    expect(hover('cut 40%  stock 3/8in')[0]).toBe('**Cut 40 % of 9.5 mm: 3.8 mm deep**');
  });

  test('without the diameter what a share tells alone, and what would tell more', () => {
    expect(hover('cut 40%').slice(0, 3)).toEqual([
      'Cut 40 % deep; with the understock’s diameter (`stock 9mm`) the face is known, too.',
      'Wood cut through: 37 %',
      'Strength left in bending: 37 % of an uncut, ideal round branch',
    ]);
    expect(hover('cut 3.6mm')[0]).toBe(
      'Cut 3.6 mm deep; with the understock’s diameter (`stock 9mm`) its share is known.',
    );
  });
});
