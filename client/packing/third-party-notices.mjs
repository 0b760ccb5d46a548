// Licences of the packages whose code lies in the bundles, as one text: made anew with every build.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const legalFile = /^(licen[cs]e|copying|notice|third-?party-?notices?)([.-].*)?$/i;

/**
 * @param {readonly import('esbuild').Metafile[]} metafiles of all bundles
 * @returns {string}
 * @throws where a package says nothing of its licence: its code may not be handed on
 */
export function thirdPartyNotices(metafiles) {
  const files = new Set(metafiles.flatMap(({ outputs }) => Object.values(outputs).flatMap(partsOf)));
  /** Folder of a package, and the notices in the comments of those of its files that are in a bundle. @type {Map<string, Set<string>>} */
  const packages = new Map();
  for (const file of [...files].sort()) {
    const folder = /^.*node_modules\/(@[^/]+\/)?[^/]+/.exec(file)?.[0];
    if (!folder) continue;
    const notices = packages.get(folder) ?? new Set();
    packages.set(folder, notices);
    for (const notice of noticesIn(readFileSync(file, 'utf8'))) notices.add(notice);
  }
  /** A text, and the packages it is the licence of. @type {Map<string, string[]>} */
  const texts = new Map();
  for (const [folder, notices] of packages) {
    const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
    const legal = readdirSync(folder).filter((file) => legalFile.test(file));
    if (legal.length === 0 || typeof license !== 'string')
      throw new Error(`${name} ${version} comes without the text of its licence.`);
    const written = legal.map((file) => readFileSync(join(folder, file), 'utf8')).map(tidy);
    for (const text of new Set([...written, ...notices]))
      texts.set(text, [...(texts.get(text) ?? []), `${name} ${version} (${license})`]);
  }
  const parts = [...texts].map(([text, names]) => `${[...new Set(names)].sort().join('\n')}\n\n${text}\n`);
  return `Graft Log contains code of these packages, under these licences.\n\n${parts.join(`\n${'-'.repeat(80)}\n\n`)}`;
}

/** @param {import('esbuild').Metafile['outputs'][string]} output */
const partsOf = ({ inputs }) =>
  Object.entries(inputs)
    .filter(([file, { bytesInOutput }]) => bytesInOutput > 0 && existsSync(file))
    .map(([file]) => file);

/**
 * Code taken over from elsewhere says so in a comment, at times behind the words that put a file under Apache's licence.
 * @param {string} code
 */
const noticesIn = (code) =>
  [...code.matchAll(/\/\*([\s\S]*?)\*\//g)]
    .map(([, comment]) => tidy(String(comment).replace(/^[ \t]*\*+[ \t]?/gm, '')))
    .map((comment) => comment.replace(/^@license Apache-2\.0[\s\S]*?limitations under the License\.\s*/, ''))
    .filter((comment) => /copyright|permission to use/i.test(comment));

/** @param {string} text */
const tidy = (text) =>
  text
    .replaceAll('\r\n', '\n')
    .replace(/[ \t]+$/gm, '')
    .trim();
