import { URI } from 'vscode-uri';

let last = { uri: '', address: '' };

/**
 * One spelling for a file's address. Editors, Node and hands write `(` or `%28`, `ä` or `%C3%A4`, `C:` or `c%3A`; signs
 * that stand for nothing (`100%`) are kept as signs.
 */
export function addressOf(uri: string): string {
  // asked for the same file with every key
  if (uri !== last.uri) last = { uri, address: parsed(uri) };
  return last.address;
}

function parsed(uri: string): string {
  try {
    return URI.parse(uri).toString();
  } catch {
    // no address by the rules: nobody else will spell it otherwise
    return uri;
  }
}

/** Of a file in a folder whose address is given, by its path there. */
export const addressIn = (folder: string, path: string): string =>
  addressOf(`${folder}/${path.split('/').map(encodeURIComponent).join('/')}`);

/** The path of an address from a folder's on, or from its beginning. */
export const pathIn = (folder: string, address: string): string =>
  decoded(address.slice(folder.length)).replace(/^\//, '');

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
