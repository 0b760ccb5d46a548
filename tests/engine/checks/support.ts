import type { Code } from '#grammar/codes.ts';
import { parseIso } from '#grammar/values/date.ts';
import type { CheckWeather } from '#server/engine/checks/case.ts';
import { checkEnv } from '#server/engine/checks/env.ts';
import { acrossChecks, checkBatch } from '#server/engine/checks/index.ts';
import { Histories } from '#server/engine/histories.ts';
import { Log } from '#server/engine/log.ts';
import { merge } from '#server/engine/merge.ts';
import type { Finding } from '#server/engine/model.ts';
import { expectMarks } from '../../support/marks.ts';

export interface Asked {
  /** The day computed for. */
  readonly on: string;
  readonly weather?: CheckWeather;
  /** The log's own findings, too: names, histories, slips. */
  readonly all?: boolean;
  /** These codes alone, where a log says more than a test is about. */
  readonly only?: readonly Code[];
}

/** What practice and attention have to say of one file, sorted by line; `overdue` comes with the work and is not here. */
export function findingsIn(text: string, { on, weather, all, only }: Asked): { line: number; finding: Finding }[] {
  const day = parseIso(on) ?? 0;
  const log = new Log();
  log.addFile('log.graft', text);
  const histories = new Histories(log, day);
  const env = checkEnv(log, day, weather);
  const read = [...log.names.batches()].map((key) => histories.of(key));
  const own = all ? [...log.lineFindings(), ...read.flatMap((history) => history.findings)] : [];
  const across = acrossChecks(env).flatMap((check) => {
    for (const history of read) check.put(history, env);
    return check.findings(env);
  });
  const found = merge([...own, ...read.flatMap((history) => checkBatch(history, env)), ...across]);
  const asked = only ? found.filter(({ code }) => only.includes(code)) : found;
  return asked.map((finding) => ({ line: log.document(finding.entry.file)?.lineOf(finding.entry) ?? -1, finding }));
}

/** A log with the findings marked under their lines, and none that isn't. */
export function expectFindings(text: string, asked: Asked): void {
  expectMarks(text, (log) =>
    findingsIn(log, asked).map(({ line, finding: { span, severity, code, message } }) => ({
      line,
      start: span.start,
      end: span.end,
      severity,
      code,
      message,
    })),
  );
}

/** Line (from 1), severity, code and set of each finding: `6 warning cut-shallow B2.2`. */
export function listed(text: string, asked: Asked): string[] {
  return findingsIn(text, asked).map(({ line, finding: { severity, code, grafts } }) =>
    [line + 1, severity, code, grafts].filter((part) => part !== undefined).join(' '),
  );
}

/** The invented nursery's site and places, at the head of most logs here. */
export const nursery = `site   Drumlin-Lane  lat 47.90  lon 8.10  tz Europe/Berlin
place  frame  frost-free shade wind-break
place  yard
tree   T5  Pinus thunbergii  in frame`;
