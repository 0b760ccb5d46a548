import type { Document } from '#grammar/document.ts';
import type { Entry } from './model.ts';
import { byCodePoint } from './order.ts';

/** Cheap to keep by difference: two files that hold the same lines agree in it, and few others do. */
export interface Signature {
  readonly lines: number;
  readonly units: number;
  readonly statements: number;
  /** Of how the lines begin, in any order: files of one length, a batch in each, are not alike. */
  readonly print: number;
}

export function signatureOf(
  entries: readonly Entry[],
  from: Signature = { lines: 0, units: 0, statements: 0, print: 0 },
  sign: 1 | -1 = 1,
): Signature {
  let { lines, units, statements, print } = from;
  for (const { line } of entries) {
    const text = line.text.trim();
    if (text.length === 0) continue;
    lines += sign;
    units += sign * text.length;
    print = (print + sign * beginningOf(text)) | 0;
    if (line.statement) statements += sign;
  }
  return { lines, units, statements, print };
}

/** A verb and a name stand in so many letters. */
const begun = 16;

function beginningOf(text: string): number {
  let print = 0;
  for (let i = 0; i < begun && i < text.length; i++) print = (Math.imul(print, 31) + text.charCodeAt(i)) | 0;
  return print;
}

/** Whether another file may hold the same lines as one with this signature: asked on every key, it builds nothing. */
export function mayBeAlike(files: ReadonlyMap<string, Held>, file: string, own: Signature): boolean {
  const { lines, units, print } = own;
  for (const [other, { signature }] of files)
    if (other !== file && signature.lines === lines && signature.units === units && signature.print === print)
      return true;
  return false;
}

interface Held {
  readonly document: Document;
  readonly signature: Signature;
}

/**
 * Files that hold the same lines as another, such as a sync program leaves behind: for every file the one it copies, or
 * nothing. Of two alike the shorter path is the original, then the first by code point.
 */
export function copies(files: ReadonlyMap<string, Held>): Map<string, string | undefined> {
  const found = new Map<string, string | undefined>();
  const alike = new Map<string, string[]>();
  for (const [file, { signature }] of files) {
    found.set(file, undefined);
    if (signature.statements === 0) continue;
    const key = `${signature.lines} ${signature.units} ${signature.print}`;
    alike.set(key, [...(alike.get(key) ?? []), file]);
  }
  for (const group of alike.values()) {
    if (group.length < 2) continue;
    group.sort((a, b) => a.length - b.length || byCodePoint(a, b));
    const originals: string[] = [];
    for (const file of group) {
      const original = originals.find((other) => sameLines(files.get(other), files.get(file)));
      if (original === undefined) originals.push(file);
      else found.set(file, original);
    }
  }
  return found;
}

function sameLines(a: Held | undefined, b: Held | undefined): boolean {
  const [left, right] = [spoken(a), spoken(b)];
  for (;;) {
    const [x, y] = [left.next(), right.next()];
    if (x.done || y.done) return Boolean(x.done && y.done);
    if (x.value !== y.value) return false;
  }
}

function* spoken(held: Held | undefined): Generator<string> {
  for (const { line } of held?.document.entries ?? []) {
    const text = line.text.trim();
    if (text !== '') yield text;
  }
}
