import type { Root } from '#server/workspace/root.ts';
import type { Workspace } from '#server/workspace/workspace.ts';
import { pageScheme } from './protocol.ts';

/** The logs that can be asked. The shipped practice, open beside them, is a text to read and no log of anybody's. */
export const logsIn = (workspace: Workspace): Root[] =>
  workspace.roots.filter(({ uri }) => !uri.startsWith(`${pageScheme}:`));

/** The log a file belongs to, or a root's own; where nothing such is in front, the first with lines in it. Once it is read. */
export async function logAsked(workspace: Workspace, uri: string | undefined): Promise<Root | undefined> {
  const logs = logsIn(workspace);
  const own = uri === undefined ? undefined : (logs.find((one) => one.uri === uri) ?? workspace.rootOf(uri));
  const among = own && logs.includes(own) ? [own] : logs;
  // figures of a folder half read would be wrong
  await Promise.all(among.map((root) => root.whenRead()));
  return among.find((root) => !root.loading && root.log.fileNames.length > 0);
}
