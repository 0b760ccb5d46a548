import { describe, expect, test } from 'vitest';
import type { ParameterInformation, SignatureHelp } from 'vscode-languageserver-protocol';
import { signatureHelp } from '#server/lsp/signature-help.ts';
import { startServer } from '../support/server.ts';
import { caretIn, folderOf } from '../support/view.ts';

const nursery = `place    frame   frost-free shade wind-break
batch    K26  Pinus parviflora / Pinus thunbergii  side-veneer  film 38mm  in frame
2026-10-09
graft    K26.1..11  cut 40%  scion 4mm x 90mm  whorls 2  by mk
`;

const blank = { triggerKind: 2, triggerCharacter: ' ', isRetrigger: false } as const;
const invoked = { triggerKind: 1, isRetrigger: false } as const;

/** The row with what is due here in brackets, and what is said of that. */
function shown(line: string, context: Parameters<typeof signatureHelp>[2] = invoked): string | null {
  const { text, position } = caretIn(`${nursery}${line}`);
  const help = signatureHelp(folderOf(text, '2026-11-01').view(), position, context);
  return help && rowOf(help);
}

function rowOf({ signatures, activeParameter = 0 }: SignatureHelp): string {
  const { label, parameters } = signatures[0] as SignatureHelp['signatures'][0];
  const active = parameters?.[activeParameter ?? 0] as ParameterInformation;
  const [start, end] = active.label as [number, number];
  const { value } = active.documentation as { value: string };
  return `${label.slice(0, start)}[${label.slice(start, end)}]${label.slice(end)}: ${value}`;
}

describe('along a line', () => {
  test('behind the verb: what it acts on', () => {
    expect(shown('open |')).toMatch(
      /^open {2}\[grafts\|place\] {2}20% {2}by {2}photo {2}accept {2}"remark": After `open` comes which grafts/,
    );
  });

  test('behind the verb of a declaration: its name, its plants, for whom a rule is, which file', () => {
    expect(shown('batch |')).toMatch(/^batch {2}\[name\] {2}plants {2}.*: After `batch` comes its name/);
    expect(shown('tree T2|')).toMatch(/^tree {2}\[name\] {2}plants/);
    expect(shown('tree T2 |')).toMatch(/^tree {2}name {2}\[plants\]/);
    expect(shown('practice |')).toMatch(/^practice {2}\[for whom\]/);
    expect(shown('practice any |')).toMatch(/^practice {2}for whom {2}\[(?!for)/);
    expect(shown('accept |')).toMatch(/^accept {2}\[codes\] {2}for whom: After `accept` comes which findings/);
    expect(shown('accept cut-shallow |')).toMatch(/\[for whom\]/);
    expect(shown('weather |')).toMatch(/^weather {2}\["station\.csv"\] {2}.*: After `weather` comes a file/);
  });

  test('behind the grafts: how far, where that is asked', () => {
    expect(shown('open K26 |')).toMatch(
      /^open {2}grafts\|place {2}\[20%\] {2}by .*: After `open` comes how far it is now/,
    );
  });

  test('what lines like this have as a rule comes first, and what was given is gone', () => {
    expect(shown('graft K26.12 |')).toMatch(/^graft {2}grafts {2}\[cut\] {2}scion {2}whorls {2}by {2}/);
    expect(shown('graft K26.12  cut 40%  |')).toMatch(
      /^graft {2}grafts {2}\[scion\] {2}whorls {2}by {2}(?!.*cut).*…: The scion/,
    );
  });

  test('behind a key: what its value is', () => {
    expect(shown('graft K26.12  cut |')).toMatch(
      /^graft {2}grafts {2}\[cut\] .*: How deep .* After `cut` comes how deep: `cut 40%` or `cut 3mm`\.$/,
    );
    expect(shown('graft K26.12  cut 4|')).toMatch(/\[cut\]/);
    expect(shown('graft K26.12  cut: |')).toMatch(/\[cut\]/);
    expect(shown('batch B27  Pinus mugo / |')).toMatch(/\[plants\]/);
    expect(shown('sell K26  to |')).toMatch(/\[to\].*`to "garden centre"`/);
  });
});

describe('when it shows itself', () => {
  test('a blank shows it where the line waits for something, and nowhere else', () => {
    for (const line of ['open |', 'batch |', 'practice |', 'pair |', 'weather |', 'accept |'])
      expect(shown(line, blank), line).not.toBe(null);
    expect(shown('batch K27 |', blank)).toBe(null);
    expect(shown('graft K26.12  cut |', blank)).not.toBe(null);
    expect(shown('graft K26.12  cut 40% |', blank)).toBe(null);
    expect(shown('take K26 |', blank)).toBe(null);
  });

  test('once shown it stays along the line, and goes with it', () => {
    expect(shown('graft K26.12  cut 40% |', { ...blank, isRetrigger: true })).toMatch(/\[scion\]/);
    expect(shown('|', { ...blank, isRetrigger: true })).toBe(null);
    expect(shown('take K26  # so |', { ...blank, isRetrigger: true })).toBe(null);
  });
});

test('over the protocol', async () => {
  const server = await startServer();
  expect(server.initialized.capabilities.signatureHelpProvider?.triggerCharacters).toEqual([' ']);
  const uri = 'untitled:log.graft';
  await server.open(uri, `${nursery}move K26  to `);
  const help = await server.connection.sendRequest<SignatureHelp>('textDocument/signatureHelp', {
    textDocument: { uri },
    position: { line: 4, character: 13 },
    context: blank,
  });
  expect(rowOf(help)).toMatch(/^move {2}grafts\|tree\|lot {2}\[to\].*`to frame`/);
  expect(await server.stop()).toBe(0);
});
