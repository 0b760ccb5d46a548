import { join, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';
import { seasonReport } from '#server/engine/season-report.ts';
import { seasonPage } from '#server/report/season-page.ts';
import { logOf } from '../support/log.ts';
import { pageTables, textOf } from '../support/page-tables.ts';
import { terminal } from '../support/terminal.ts';
import { answersOf, mild } from '../support/weather.ts';

const { run, get, put, folder } = terminal();
const nursery = resolve('examples/drumlin-lane');
const on = ['--on', '2025-06-20'];
const json = (...args: string[]) => JSON.parse(run([...args, '--format', 'json']).out);
/** Of the nursery, which is large enough to be asked once. */
const asked = new Map<string, ReturnType<typeof json>>();
function ofNursery(...args: string[]) {
  const [command = '', ...more] = args;
  const known = asked.get(args.join(' ')) ?? json(command, nursery, ...on, ...more);
  asked.set(args.join(' '), known);
  return known;
}
const percent = (share: number) => `${Math.round(share * 100)} %`;

describe('the page of the example nursery says what the command line says', () => {
  const page = (...more: string[]) => {
    expect(run(['report', nursery, ...on, '--out', 'report.html', ...more])).toMatchObject({ status: 0, out: '' });
    return get('report.html');
  };

  test('take rates of every batch, as stats has them', () => {
    const { groups, ranking } = ofNursery('stats');
    const rows = pageTables(page()).get(1) ?? [];
    const batches = rows.filter(([name]) => /^[A-Z]+\d\d /.test(name ?? ''));
    expect(batches.length).toBe(groups.length);
    for (const group of groups) {
      const { grafted, taken, failed, open, rate, low, high, best } = group;
      const [, ...cells] = batches.find(([name]) => name?.startsWith(`${group.key.batch} `)) ?? [];
      const [made, took, lost, left, , shown = '', next] = cells;
      expect([made, took, lost, left].map(Number)).toEqual([grafted, taken, failed, open]);
      const judged = (taken + failed) * 2 >= grafted;
      if (judged) {
        expect(shown.startsWith(percent(rate))).toBe(true);
        expect(shown).toContain(`(${Math.round(low * 100)}–${Math.round(high * 100)})`);
      } else expect(shown).toBe(failed > 0 ? `not judged yet at most ${percent(best)}` : 'not judged yet');
      const item = ranking.items.find(({ name }: { name: string }) => name === group.key.batch);
      expect(next).toBe(item ? percent(item.estimate) : '–');
    }
  });

  test('seasons are the sums of their batches, and all on record that of the seasons', () => {
    const { groups } = ofNursery('stats');
    const { seasons, all } = ofNursery('report');
    type Counts = Record<'grafted' | 'taken' | 'failed' | 'open', number>;
    const sum = (list: readonly Counts[], key: keyof Counts) => list.reduce((total, one) => total + one[key], 0);
    for (const season of seasons) {
      const own = groups.filter(({ key }: { key: { batch: string } }) => season.names.includes(key.batch));
      expect([season.grafted, season.failed]).toEqual([sum(own, 'grafted'), sum(own, 'failed')]);
      // takes called too early are open where batches are pooled
      expect(season.taken).toBe(
        sum(own, 'taken') - own.reduce((n: number, { early }: { early: number }) => n + early, 0),
      );
    }
    expect([all.grafted, all.taken, all.failed, all.open]).toEqual(
      (['grafted', 'taken', 'failed', 'open'] as const).map((key) => sum(seasons, key)),
    );
    const rows = pageTables(page()).get(1) ?? [];
    const total = rows.find(([name]) => name === 'All on record') ?? [];
    expect(total.slice(1, 5).map(Number)).toEqual([all.grafted, all.taken, all.failed, all.open]);
    expect(total[6]).toBe(`${percent(all.rate)} (${Math.round(all.low * 100)}–${Math.round(all.high * 100)})`);
  });

  test('losses over time, causes, and what the record can say', () => {
    const html = page();
    const { survival, groups, comparisons } = ofNursery('stats', '--compare', 'season,method,hand');
    const tables = pageTables(html);
    const alive = (day: number) => survival.points.findLast((point: { day: number }) => point.day <= day)?.share ?? 1;
    const [head = [], ...days] = tables.get(2) ?? [];
    for (const row of days.slice(1)) {
      const day = Number(row[0]?.replace('day ', ''));
      expect(row[head.indexOf('all')]?.startsWith(percent(alive(day)))).toBe(true);
    }
    expect(textOf(html)).toContain(`Half of the losses were seen by day ${survival.halfOfLosses}`);
    const causes: Record<string, number> = {};
    for (const group of groups)
      for (const [cause, count] of Object.entries<number>(group.causes)) causes[cause] = (causes[cause] ?? 0) + count;
    const told = (tables.get(3) ?? []).slice(1).map(([cause = '', , count]) => [cause, Number(count)]);
    expect(Object.fromEntries(told)).toEqual(
      Object.fromEntries(
        Object.entries(causes).map(([cause, n]) => [cause === 'unknown' ? 'no cause noted' : cause, n]),
      ),
    );
    const said = textOf(html);
    const clear = comparisons.filter(({ word }: { word: string }) => word === 'better' || word === 'worse');
    expect(clear.length).toBeGreaterThan(0);
    for (const { word, a, b } of clear) expect(said).toContain(`${word === 'better' ? a : b} did better`);
  });

  test('openings and work ahead, as due has them', () => {
    const { work, levelled } = ofNursery('due', '--hours', '6');
    const tables = pageTables(page('--hours', '6'));
    const steps = work.filter(({ what, to }: { what: string; to: unknown }) => what === 'open' && to !== null);
    const opening = (tables.get(4) ?? []).slice(1);
    for (const { grafts, to } of steps) {
      const row = opening.find(([set]) => set?.startsWith(`${grafts} `));
      expect(row?.[2]).toContain(`to ${Math.round(to.low * 100)}–${Math.round(to.high * 100)} %`);
    }
    expect(opening.filter(([, , told]) => !told?.startsWith('free')).length).toBe(steps.length);
    const busy = levelled.weeks.filter(({ tasks }: { tasks: unknown[] }) => tasks.length > 0).slice(0, 12);
    const weeks = (tables.get(6) ?? []).slice(1);
    expect(weeks.length).toBe(busy.length);
    const hours = (minutes: number) =>
      minutes < 60 ? `${Math.round(minutes)} min` : `${Math.round(minutes / 6) / 10} h`;
    for (const [i, { taken }] of busy.entries()) expect(weeks[i]?.[3]).toContain(hours(taken));
  });

  test('frost nights, as the JSON of the report and the findings have them', () => {
    const { frost } = ofNursery('report');
    const { findings } = ofNursery('check');
    const rows = (pageTables(page()).get(5) ?? []).slice(1);
    expect(rows[0]?.[2]).toContain(`${frost.nights.length} nights below 0 °C`);
    for (const { place, readings } of frost.places)
      expect(rows.find(([name]) => name?.startsWith(`${place} `))?.[2]).toContain(`of ${readings} night`);
    const froze = findings.filter(
      ({ code, file }: { code: string; file: string }) =>
        code === 'froze' && /2024|2025/.test(file.replace(/^.*\//, '')),
    );
    const bare = frost.places.flatMap(({ frosts }: { frosts: unknown[] }) => frosts);
    expect(bare.length).toBe(froze.length);
  });
});

test('a season alone has the figures stats has of a log that holds it alone', () => {
  const season = (year: number, taken: number) => `batch K${year}  Pinus parviflora / Pinus thunbergii  side-veneer
batch L${year}  Pinus parviflora / Pinus thunbergii  side-veneer
${year}-10-09 graft K${year}.1..30
${year}-10-20 graft L${year}.1..20
${year + 1}-05-20 take K${year}.1..${taken}
${year + 1}-05-20 fail K${year} rest dried
${year + 1}-05-21 take L${year}.1..15
${year + 1}-05-21 fail L${year} rest rotted
`;
  put('all/a.graft', season(2026, 20));
  put('all/b.graft', season(2027, 27));
  put('alone/b.graft', season(2027, 27));
  const [newest, before] = json('report', 'all', '--on', '2028-06-01').seasons;
  const [alone] = json('stats', 'alone', '--on', '2028-06-01', '--by', 'genus').groups;
  expect([newest.name, before.name]).toEqual(['2027/28', '2026/27']);
  const { key: _, ...figures } = alone;
  expect(newest).toMatchObject({ ...figures });
});

describe('a log of one batch, of none, and of others’ making', () => {
  const page = (text: string, day: string, files: Record<string, string> = {}) =>
    seasonPage(seasonReport(answersOf(logOf(text, day).log, day, files)));

  const log = `site   Drumlin-Lane  lat 47.90  lon 8.10
place  frame  frost-free shade wind-break
place  yard
weather "station.csv"
batch  K26  Pinus parviflora 'Tenysu' / Pinus thunbergii  side-veneer  film 38mm  in frame
2026-10-09
graft  K26.1..12  cut 40%  whorls 2  by mk
2026-12-01
move   K26.12 to yard
2027-03-20
swell  K26
2027-03-24
open   K26  10%
2027-03-30
fail   K26.5  dried
`;
  const files = { 'station.csv': mild('2026-08-01', '2027-05-01', { '2027-01-10': -5, '2026-11-02': -1 }) };

  test('says plainly what is not there yet', () => {
    const html = textOf(page('site Drumlin-Lane lat 47.9 lon 8.1', '2027-04-06'));
    expect(html).toContain('No grafts on record yet.');
    expect(html).toContain('the product’s label and your local rules hold');
  });

  test('young: no rate, the best that can come, what is next, and cautions without a dose', () => {
    const html = page(log, '2027-04-06', files);
    const said = textOf(html);
    expect(said).toContain(
      'Not judged yet: of 12 grafts 0 are taken, 1 lost. Between 0 and 92 % will have taken in the end.',
    );
    expect(said).toContain('not judged yet at most 92 %');
    expect(html).toContain('<i lang="la">Pinus parviflora</i> ‘Tenysu’ / <i lang="la">P.\u00A0thunbergii</i>');
    expect(pageTables(html).get(4)?.slice(1)[0]?.[2]).toMatch(/^10 % since 24 Mar; next to 15–20 %/);
    expect(said).toContain('plant passports');
    expect(said).not.toMatch(/\d\s?(?:ml|g|%)\s?(?:per|\/)\s?(?:l|litre)/i);
  });

  test('what stood out in the frost is counted, what stood under a roof is not', () => {
    const { frost } = seasonReport(answersOf(logOf(log, '2027-04-06').log, '2027-04-06', files));
    expect(frost.nights?.map(({ min }) => min)).toEqual([-1, -5]);
    // an open yard without readings of its own takes no station's nights on
    expect(frost.places.map(({ place, frosts }) => [place, frosts.length])).toEqual([
      ['frame', 0],
      ['yard', 0],
    ]);
    const near = seasonReport(
      answersOf(logOf(log.replace('"station.csv"', '"station.csv" in yard'), '2027-04-06').log, '2027-04-06', files),
    ).frost;
    expect(near.places.find(({ place }) => place === 'yard')?.frosts.map(({ min, grafts }) => [min, grafts])).toEqual([
      [-5, 1],
    ]);
  });

  test('names that would be markup, very long or written from the right are text and nothing else', () => {
    const long = 'X'.repeat(300);
    const hostile = log
      .replace("'Tenysu'", `'</style><script>alert(1)</script>${long}\u202e\u0007'`)
      .replace('Drumlin-Lane', `Dr"'}*{display:none}umlin`)
      .replaceAll('yard', '\u05d0\u05d1\u202e\u2028z')
      .replace('fail   K26.5  dried', 'fail   K26.5  dried  "<img src=x onerror=alert(1)>"');
    const html = page(hostile, '2027-04-06', files);
    expect(html).not.toMatch(/<script|<img|onerror=|javascript:/i);
    expect(html.match(/<\/style>/g)?.length).toBe(1);
    expect(html).not.toMatch(/[\u202a-\u202e\u2066-\u2069\u0007\u2028]/);
    expect(html).not.toMatch(/(?:src|href)="(?!#)/);
    expect(html).toContain("default-src 'none'");
  });

  test('the foot of a printed page holds a name whatever is in it', () => {
    const report = seasonReport(answersOf(logOf(log, '2027-04-06').log, '2027-04-06', files));
    const html = seasonPage({ ...report, name: '"; } * { display: none } </style><script>\\n\n' });
    expect(html).not.toMatch(/<script/i);
    expect(html.match(/<\/style>/g)?.length).toBe(1);
    const [foot = ''] = /@bottom-left \{[^\n]*/.exec(html) ?? [];
    expect(/content: "([^"]*)"; font/.exec(foot)?.[1]).toMatch(/^(?:[\p{L}\p{N}]|\\[0-9a-f]+ )+$/u);
  });
});

test('the page is written where it is asked to be, never over a log', () => {
  put('log.graft', 'site Drumlin-Lane lat 47.9 lon 8.1');
  expect(run(['report', '--out', join(folder(), 'log.graft')])).toMatchObject({ status: 2 });
  expect(run(['report'])).toMatchObject({ status: 2, err: expect.stringContaining('--out') });
  expect(run(['report', '--out', '-']).out).toContain('<!doctype html>');
});
