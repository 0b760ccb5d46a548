import fc from 'fast-check';
import { expect, test } from 'vitest';
import { codes } from '#grammar/codes.ts';
import { severities } from '#grammar/finding.ts';
import { anyLog } from '../../support/lines.ts';
import { findingsIn, nursery } from './support.ts';

/* Of any text: checks find what can be shown, or nothing; they never stop the reading. */

const graftLines = fc.array(
  fc
    .tuple(
      fc.constantFrom('2026-10-09', '2027-03-15', '2027-06-30', '2027-10-02', '2028-05-01', ''),
      fc.constantFrom(
        'graft K26.1..12  cut 20%  top',
        'graft K26.13..20  in shed  whorls 5',
        'graft S27 x40',
        'graft S27 x9  onto T5  film',
        'swell K26.1..6',
        'open K26 40%',
        'open K26.1..3 x2 90%',
        'open shed 10%',
        'rewrap K26.2',
        'check K26 dry mould biting',
        'check shed wet',
        'free K26.1..4',
        'take K26.1..9 x3',
        'take S27',
        'fail K26 rest',
        'headback K26 100%',
        'untie K26',
        'retie K26.1',
        'move K26.1..5 to shed',
        'move T5 to yard',
        'uncover shed',
        'cover shed frost-free',
        'sell S27 x5 to "a friend"',
        'reading shed min -4C max 36C',
        'collect L1  Pinus parviflora  soft  unpruned 2mo  in shed  at 9C',
        'batch S27  Abies koreana / Picea abies  bark  lot L1  in shed',
        'practice K26.3 cut none',
        'practice any open-every 40d..',
        'practice needle silent 1d.. after mould',
        'accept cut-shallow K26.1..3',
        'pair Abies / Picea never',
      ),
    )
    .map(([date, line]) => `${date}  ${line}`),
  { maxLength: 25 },
);

test.each([
  ['any text', anyLog],
  [
    'work in any order',
    graftLines.map(
      (lines) =>
        `${nursery}\nplace shed capacity 10\nbatch K26  Pinus parviflora / Pinus thunbergii  side-veneer  film\n${lines.join('\n')}`,
    ),
  ],
])('%s', (_, logs) => {
  fc.assert(
    fc.property(logs, fc.constantFrom('2027-04-01', '2028-09-30', '2033-01-01'), (text, on) => {
      for (const { line, finding } of findingsIn(text, { on })) {
        const { code, severity, span, message, entry, related, mends } = finding;
        expect(severities.indexOf(severity)).toBeGreaterThanOrEqual(severities.indexOf(codes[code].severity));
        expect(line).toBeGreaterThanOrEqual(0);
        expect(span.start).toBeLessThanOrEqual(span.end);
        expect(span.end).toBeLessThanOrEqual(entry.line.text.length);
        expect(message.length).toBeLessThanOrEqual(140);
        expect(message).not.toMatch(/!|please|undefined|NaN|null|invalid/i);
        for (const back of related ?? []) expect(back.span.end).toBeLessThanOrEqual(back.entry.line.text.length);
        for (const { title } of mends ?? []) expect(title.length).toBeLessThanOrEqual(40);
      }
    }),
    { numRuns: 150 },
  );
});
