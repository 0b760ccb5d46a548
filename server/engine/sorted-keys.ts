/** Names in order of the alphabet, kept by difference from the first question on: a log nobody types in never sorts them. */
export class SortedKeys {
  private readonly source: () => Iterable<string>;
  private known: string[] | undefined;

  constructor(source: () => Iterable<string>) {
    this.source = source;
  }

  private get keys(): string[] {
    this.known ??= [...this.source()].sort();
    return this.known;
  }

  add(key: string): void {
    if (!this.known) return;
    const at = this.from(key);
    if (this.known[at] !== key) this.known.splice(at, 0, key);
  }

  delete(key: string): void {
    if (!this.known) return;
    const at = this.from(key);
    if (this.known[at] === key) this.known.splice(at, 1);
  }

  /** Many come at once: they are sorted anew when next asked for. */
  forget(): void {
    this.known = undefined;
  }

  *startingWith(prefix: string): Generator<string> {
    const { keys } = this;
    for (let i = this.from(prefix); i < keys.length && (keys[i] as string).startsWith(prefix); i++)
      yield keys[i] as string;
  }

  private from(key: string): number {
    const { keys } = this;
    let [low, high] = [0, keys.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((keys[middle] as string) < key) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}
