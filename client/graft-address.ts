/**
 * What an address of the editor asks for: `vscode://graft-log.graftlog/graft/K26.12`. What stands behind `/graft/` is
 * what a label says, its number first. Anyone can write an address: what is no number of a graft is not looked up.
 */
export function graftOf({ path }: { readonly path: string }): string | undefined {
  const said = /^\/graft\/([^/]+)$/.exec(path)?.[1]?.trim().split(/\s/)[0];
  return said && isGraftNumber(said) ? said : undefined;
}

/** `K26.12`, or a batch's name alone. Nothing else of a scanned text is ever shown back, as a message may hold links. */
export const isGraftNumber = (text: string): boolean => /^\p{L}[\p{L}\p{M}\p{N}_-]{0,59}(\.\d{1,9})?$/u.test(text);
