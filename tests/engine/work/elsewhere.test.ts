import { describe, expect, test } from 'vitest';
import { workLines } from '../../support/work.ts';

/* The same work south of the equator, in the tropics, and where a place lies elsewhere than the site. */

const log = (lat: string, made: string, lines = '', place = '') => `
site    Drumlin-Lane  lat ${lat}
place   frame   frost-free shade wind-break  ${place}
batch   K26  Pinus parviflora / P. thunbergii  side-veneer  film 38mm  in frame
${made}  graft   K26.1..20
${lines}
`;

describe('south of the equator', () => {
  test('an autumn graft of April swells in September', () => {
    expect(workLines(log('-41.3', '2027-04-09'), '2027-07-01')).toEqual([
      'K26.1..20 look 2027-04-16..2027-04-23 overdue',
      'K26.1..20 watch 2027-09-01..2027-11-15 later',
    ]);
  });

  test('tie in growth, heading back by 30 September, untying from 1 April', () => {
    const lines = '2027-09-20  swell K26\n2027-11-20  free K26\n2028-01-05  take K26';
    expect(workLines(log('-41.3', '2027-04-09', lines), '2028-01-10')).toEqual([
      'K26.1..20 headback 2028-01-05..2028-09-30 due to 33..50 %',
      'K26.1..20 tie 2028-02-02..2028-02-16 later',
      'K26.1..20 untie 2028-04-01..2029-03-31 later',
      'K26.1..20 again 2029-01-04..2029-02-03 later',
    ]);
  });

  test('cover by 1 April for what was grafted in January, listed from 1 February', () => {
    const bare = log('-41.3', '2028-01-05').replace('frost-free ', '');
    expect(workLines(bare, '2028-01-31').join()).not.toContain('cover');
    expect(workLines(bare, '2028-02-01')).toContain('K26.1..20 cover 2028-03-01..2028-04-01 later');
  });

  test('what stands in the log is taken as written', () => {
    const own = 'practice needle detached made autumn,winter work watch after graft wait aug-20..oct-31';
    expect(workLines(log('-41.3', '2027-04-09', own), '2027-07-01')).toContain(
      'K26.1..20 watch 2027-08-20..2027-10-31 later',
    );
  });
});

describe('within 23.5° of the equator', () => {
  test('work with a season is not listed, days on are', () => {
    expect(workLines(log('18.5', '2026-10-09'), '2026-10-12')).toEqual(['K26.1..20 look 2026-10-16..2026-10-23 soon']);
    const lines = '2026-12-01  swell K26\n2026-12-03  open K26 10%';
    expect(workLines(log('-18.5', '2026-10-09', lines), '2026-12-10')).toEqual([
      'K26.1..20 open 2026-12-13..2026-12-17 soon to 15..20 %',
    ]);
    const taken = `${lines}\n2027-02-01  free K26\n2027-03-05  take K26`;
    expect(workLines(log('18.5', '2026-10-09', taken), '2027-03-06')).toEqual([
      'K26.1..20 again 2028-03-04..2028-04-03 later',
    ]);
  });
});

test('a place’s own latitude overrules the site’s', () => {
  const south = log('47.9', '2027-04-09', '', 'lat -41.3');
  expect(workLines(south, '2027-07-01')).toContain('K26.1..20 watch 2027-09-01..2027-11-15 later');
});

test('without a site the north is assumed', () => {
  const bare = log('47.9', '2026-10-09').replace(/^\nsite.*\n/, '');
  expect(workLines(bare, '2026-12-01')).toContain('K26.1..20 watch 2027-03-01..2027-05-15 later');
});
