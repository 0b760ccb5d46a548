import { chmodSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join, resolve } from 'node:path';

const project = resolve(import.meta.dirname, '../..');

/** The log that every other editor opens: line 7 has a slip, and lines 6 and 7 a layout to mend. */
const log = `site     Drumlin-Lane  lat 53.1  lon -2.4
place    frame  frost-free shade wind-break
batch    K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame

2026-10-09
graft    K26.1..11    cut 40%  whorls 2
graft    K26.12  cut 22%  whorls 2

`;
export const laidOut = ['graft    K26.1..11  cut 40%  whorls 2', 'graft    K26.12     cut 22%  whorls 2'];

/**
 * A folder with the log, `graftlog` on the path as of 1 November 2026, and the lines that the README gives for this
 * editor's configuration; its script writes what the editor received as JSON.
 */
export function otherEditor(fence: string) {
  const folder = mkdtempSync(join(tmpdir(), 'graftlog-editor-'));
  const put = (name: string, text: string): string => {
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  mkdirSync(join(folder, 'bin'));
  const cli = join(project, 'dist/cli.js');
  chmodSync(put('bin/graftlog', `#!/bin/sh\nexec '${process.execPath}' '${cli}' "$@" --on 2026-11-01\n`), 0o755);
  const readme = readFileSync(join(project, 'README.md'), 'utf8');
  const configuration = new RegExp(`\`\`\`${fence}\\n([\\s\\S]*?)\`\`\``).exec(readme)?.[1] ?? '';
  const answers = join(folder, 'answers.json');
  return {
    folder,
    log: put('2026.graft', log),
    env: {
      ...process.env,
      PATH: `${join(folder, 'bin')}${delimiter}${process.env.PATH}`,
      HOME: folder,
      XDG_STATE_HOME: folder,
      XDG_DATA_HOME: folder,
      GRAFTLOG_CONFIG: put(`configuration.${fence}`, configuration),
      GRAFTLOG_ANSWERS: answers,
    },
    answers: () => JSON.parse(readFileSync(answers, 'utf8')),
  };
}
