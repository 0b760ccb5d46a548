import { expect, test } from 'vitest';
import { Answers } from '#server/engine/answers.ts';
import { benchSheet } from '#server/report/bench-sheet.ts';
import { dayOf, logOf } from '../support/log.ts';

const log = `site   Drumlin-Lane  lat 47.90  lon 8.10
place  frame  frost-free shade wind-break
batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
2026-10-09
graft  K26.1..12  cut 40%  whorls 2  by mk
2027-03-20
swell  K26
2027-03-24
open   K26  10%
2027-03-30
fail   K26.5  dried
`;
const sheet = (text: string, on: string) => benchSheet(new Answers(logOf(text, on).log, dayOf(on)));

test('by place: the job, how far it is and goes, a box a graft, the lost struck', () => {
  const html = sheet(log, '2027-04-06');
  expect(html).toContain('<h2>frame</h2>');
  expect(html.replaceAll('\u00A0', ' ')).toContain('<span class="step">10 % &rarr; 15–20 %</span>');
  expect(html.match(/<span class="box">\d+<\/span>/g)?.length).toBe(11);
  expect(html).toContain('<span class="box lost">5</span>');
  expect(html).toContain('open     K26.1..4,6..12  15%');
});

test('the week says what is not there, too, and keeps the cautions', () => {
  const html = sheet(log, '2027-04-06');
  expect(html).toContain('Nothing is overdue.');
  expect(html).toContain('the product’s label and your local rules hold');
});

test('of many grafts a box a tray', () => {
  const html = sheet(log.replace('K26.1..12', 'K26.1..200'), '2027-04-06');
  expect(html).not.toContain('class="box"');
  expect(html.match(/class="tray"/g)?.length).toBe(5);
});

test('hostile names are text and nothing else; the page asks for nothing', () => {
  const hostile = log
    .replace('fail   K26.5  dried', 'check  K26  "<script>alert(1)</script> \u202e & \'"')
    .replace('by mk', "by O'Brien");
  const html = sheet(hostile.replace('Drumlin-Lane', 'Drumlin'), '2027-04-06');
  expect(html).not.toMatch(/<script/i);
  expect(html).not.toMatch(/(?:src|href)=/);
  expect(html).toContain("default-src 'none'");
});
