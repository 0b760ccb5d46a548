import { expect, test } from 'vitest';
import { terminal } from '../support/terminal.ts';

const { put, run } = terminal();

const log = `place  frame  frost-free shade wind-break
batch  K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame

2026-10-09
graft  K26.1..11  cut 40%  whorls 2  by mk
`;

test('beside work and figures: lines with an error may be missing in them, said where no program reads it', () => {
  put('log.graft', `${log}13.10.2026\ngraft  K26.12  cut 40%\n`);
  for (const name of ['due', 'stats']) {
    expect(run([name, '--on', '2027-04-01']).err).toBe(
      'graftlog: 1 error in this log: what stands there may be missing here. graftlog check names the lines.\n',
    );
    expect(run([name, '--on', '2027-04-01', '--format', 'json']).err).toBe('');
  }
  put('log.graft', log);
  expect(run(['due', '--on', '2027-04-01']).err).toBe('');
});
