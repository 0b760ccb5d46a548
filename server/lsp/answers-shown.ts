import type { Root } from '#server/workspace/root.ts';

interface Shown {
  readonly version: number;
  readonly said: string;
}

/**
 * The lenses, or the hints, an editor was last given, by file. It asks anew for the file that is typed in and for no
 * other: where a line of one file, a new day or a weather file changed what those of another say, it has to be told.
 */
export class AnswersShown<T> {
  readonly #shown = new Map<string, Shown>();

  /** Keeps what was answered; a file that isn't open is shown nowhere. */
  keep(root: Root, file: string, answer: readonly T[]): void {
    const version = root.open.get(file);
    if (version !== undefined) this.#shown.set(root.uriOf(file), { version, said: JSON.stringify(answer) });
  }

  closed(uri: string): void {
    this.#shown.delete(uri);
  }

  /**
   * Forgets the answers of a log that would read otherwise now, and says whether there were any: they are asked for once.
   * A file typed in since its answer is left out, its editor asks.
   */
  dropOutdated(root: Root, answer: (root: Root, file: string) => readonly T[]): boolean {
    let outdated = false;
    for (const [file, version] of root.open) {
      const uri = root.uriOf(file);
      const shown = this.#shown.get(uri);
      if (shown?.version !== version || shown.said === JSON.stringify(answer(root, file))) continue;
      this.#shown.delete(uri);
      outdated = true;
    }
    return outdated;
  }
}
