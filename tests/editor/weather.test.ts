import { symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { mild } from '../support/weather.ts';
import { hover, passedOver, picture, runCommand, startWorkbench, type Workbench } from './workbench.ts';

const log = `site   Drumlin-Lane  lat 47.90  lon 8.10
place  lath  shade wind-break
batch  A26  Pinus parviflora / Pinus thunbergii  side-veneer  film  in lath
weather  "station.csv"  in lath
weather  "link.csv"
2026-10-10  graft  A26.1..4  cut 40%
`;

describe.skipIf(passedOver)('a station’s file, read through the editor’s own file system', () => {
  let bench: Workbench;
  beforeAll(async () => {
    bench = await startWorkbench({
      '2026.graft': log,
      'station.csv': mild('2026-01-01', '2026-12-31', { '2026-11-20': -3.1 }),
      '.vscode/settings.json': '{ "graftlog.today": "2026-12-01" }',
    });
    await symlink('station.csv', join(bench.folder, 'link.csv'));
    await bench.open();
    await runCommand(bench.page, 'Problems: Focus on Problems View');
  });
  afterAll(() => bench?.close());
  const problem = (text: string | RegExp) => bench.page.locator('.markers-panel .monaco-list-row', { hasText: text });

  test('its frost night is found; a link is not followed, and is said to be one', async () => {
    await problem(/−3\.1\u00A0°C in `lath` on 20 Nov by the station/).waitFor();
    await problem('`link.csv` is a link').waitFor();
    await picture(bench.page, 'weather');
  });

  test('pointing at the path tells what was read', async () => {
    const shown = await hover(bench.page, 'station.csv');
    await expect.poll(() => shown.textContent()).toContain('335 days, 1 Jan to 1 Dec');
    await picture(bench.page, 'weather-hover');
    await bench.page.keyboard.press('Escape');
  });

  test('the file changes on the disk: the frost is gone, and comes back with it', async () => {
    const { folder } = bench;
    await writeFile(join(folder, 'station.csv'), mild('2026-01-01', '2026-12-31'));
    await problem(/20 Nov by the station/).waitFor({ state: 'detached' });
    await writeFile(join(folder, 'station.csv'), mild('2026-01-01', '2026-12-31', { '2026-11-24': -2 }));
    await problem(/−2\u00A0°C in `lath` on 24 Nov by the station/).waitFor();
  });
});
