import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ResponseError, type SelectionRange } from 'vscode-languageserver';
import { definition } from '#server/lsp/definition.ts';
import { documentHighlight } from '#server/lsp/document-highlight.ts';
import { documentLink } from '#server/lsp/document-link.ts';
import { documentSymbol } from '#server/lsp/document-symbol.ts';
import { FileFolds } from '#server/lsp/folding-range.ts';
import { inlayHint } from '#server/lsp/inlay-hint.ts';
import { references } from '#server/lsp/references.ts';
import { prepareRename } from '#server/lsp/rename.ts';
import { selectionRange } from '#server/lsp/selection-range.ts';
import { FileTokens, tokensIn } from '#server/lsp/semantic-tokens.ts';
import { anyLog } from '../support/lines.ts';
import { answerOf, folderOf } from '../support/view.ts';

interface Ranged {
  readonly range: SelectionRange['range'];
}

test('whatever stands in a log, moving about in it is answered, within its lines', () => {
  fc.assert(
    fc.property(anyLog, fc.nat(14), fc.nat(90), (text, line, character) => {
      const folder = folderOf({ 'a.graft': text }, '2027-04-06');
      const view = folder.view();
      const { length } = view.document;
      const position = { line, character };
      const whole = { start: { line: 0, character: 0 }, end: { line: length, character: 0 } };
      const ranges: Ranged[] = [
        ...(definition(view, position, { links: false, pages: false }) as Ranged[]),
        ...(documentHighlight(view, position) ?? []),
        ...answerOf(references(view, position, true)),
        ...answerOf(documentLink(view)),
      ];
      for (const { range } of ranges) {
        expect(range.start.line).toBe(range.end.line);
        expect(range.start.character).toBeLessThanOrEqual(range.end.character);
        expect(range.end.character).toBeLessThanOrEqual(view.document.entryAt(range.end.line)?.line.text.length ?? -1);
      }
      answerOf(documentSymbol(view));
      for (const { startLine, endLine } of answerOf(new FileFolds().of(view))) {
        expect(startLine).toBeLessThan(endLine);
        expect(endLine).toBeLessThan(length);
      }
      // each step of a selection holds the one before
      for (let [step] = selectionRange(view, [position]); step?.parent; step = step.parent) {
        const [inner, outer] = [step.range, step.parent.range];
        expect([outer.start.line, outer.end.line]).toEqual([
          Math.min(outer.start.line, inner.start.line),
          Math.max(outer.end.line, inner.end.line),
        ]);
        expect(inner).not.toEqual(outer);
      }
      for (const hint of inlayHint(view, whole)) expect(String(hint.label).length).toBeLessThanOrEqual(28);
      const tokens = answerOf(new FileTokens().full(view));
      expect([...(tokens?.data ?? [])]).toEqual(tokensIn(view, whole).data);
      // never backwards, never over another
      for (let i = 5; i < (tokens?.data.length ?? 0); i += 5)
        if (tokens?.data[i] === 0) expect(tokens.data[i + 1]).toBeGreaterThanOrEqual(tokens.data[i - 3] ?? 0);
      try {
        expect(prepareRename(view, position).placeholder).not.toBe('');
      } catch (error) {
        expect(error).toBeInstanceOf(ResponseError);
      }
    }),
    { numRuns: 400 },
  );
});
