import { Uri, window, workspace } from 'vscode';

/** Writes a first log into the open folder, or into an untitled file where there is none. Never over a file. */
export async function startLog(): Promise<void> {
  const folder = workspace.workspaceFolders?.[0];
  if (!folder) {
    const document = await workspace.openTextDocument({ language: 'graft', content: firstLines() });
    await window.showTextDocument(document);
    return;
  }
  const name = await window.showInputBox({
    title: 'Start a log',
    prompt: 'Name of the file',
    value: `${new Date().getFullYear()}.graft`,
  });
  if (!name) return;
  const uri = Uri.joinPath(folder.uri, name.endsWith('.graft') ? name : `${name}.graft`);
  const there = await workspace.fs.stat(uri).then(
    () => true,
    () => false,
  );
  if (!there) await workspace.fs.writeFile(uri, new TextEncoder().encode(firstLines()));
  await window.showTextDocument(uri);
}

function firstLines(): string {
  const today = new Date();
  const pad = (part: number) => String(part).padStart(2, '0');
  const day = `${today.getFullYear()}-${pad(today.getMonth() + 1)}-${pad(today.getDate())}`;
  return `# One line for each piece of work. What holds for the whole nursery stands at the top.
# site   My-nursery  lat 47.9  lon 8.1
place    frame  frost-free shade wind-break
batch    A1  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame

# A day holds for the lines below it.
${day}
graft    A1.1  cut 40%  whorls 2
`;
}
