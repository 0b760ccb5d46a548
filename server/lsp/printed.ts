import type { Connection } from 'vscode-languageserver';
import { isoDay } from '#grammar/values/date.ts';
import { seasonReport } from '#server/engine/season-report.ts';
import { benchSheet } from '#server/report/bench-sheet.ts';
import { seasonPage } from '#server/report/season-page.ts';
import type { Root } from '#server/workspace/root.ts';
import type { Workspace } from '#server/workspace/workspace.ts';
import { logAsked } from './logs.ts';
import { ReportRequest, type SheetParams, SheetRequest, type SheetResult } from './protocol.ts';

/** The pages of the command line to look at and to print, from the log as it stands. */
export function registerPrinted(connection: Connection, workspace: Workspace): void {
  const answer =
    (name: string, page: (root: Root) => string) =>
    async ({ uri }: SheetParams): Promise<SheetResult> => {
      const root = await logAsked(workspace, uri);
      return root ? { name: `${name}-${isoDay(root.day)}.html`, html: page(root) } : null;
    };
  connection.onRequest(
    SheetRequest,
    answer('bench-sheet', ({ answers, hours }) => benchSheet(answers, hours)),
  );
  connection.onRequest(
    ReportRequest,
    answer('report', ({ answers, hours }) => seasonPage(seasonReport(answers, hours))),
  );
}
