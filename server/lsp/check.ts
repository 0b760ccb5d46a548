import type { Connection } from 'vscode-languageserver';
import { findingLine, findingsSum } from '#server/report/finding-line.ts';
import { addressOf } from '#server/workspace/address.ts';
import type { Root } from '#server/workspace/root.ts';
import type { Workspace } from '#server/workspace/workspace.ts';
import { logAsked } from './logs.ts';
import { type CheckParams, CheckRequest, type CheckResult } from './protocol.ts';
import { lineOf } from './to-protocol.ts';

/** What `graftlog check` prints of a log, for the editor's task of that name. */
export function registerCheck(connection: Connection, workspace: Workspace): void {
  connection.onRequest(CheckRequest, async ({ root: uri }: CheckParams): Promise<CheckResult> => {
    const root = await logAsked(workspace, uri === undefined ? undefined : addressOf(uri));
    return root ? checked(root) : null;
  });
}

function checked(root: Root): NonNullable<CheckResult> {
  const found = root.answers.findings();
  return {
    lines: found.map((finding) => ({
      severity: finding.severity,
      text: findingLine(finding, lineOf(root, finding.entry) + 1),
    })),
    sum: findingsSum(found, root.log.fileNames.length),
  };
}
