/**
 * What has been read before and had nothing to say about it, by its text: a log says `cut 40%` and `K26` over and over,
 * and one value serves all its lines. Cleared when it has grown beyond what a log needs.
 */
export function remembered<T>(atMost: number): { get(text: string): T | undefined; keep(text: string, value: T): T } {
  const seen = new Map<string, T>();
  return {
    get: (text) => seen.get(text),
    keep(text, value) {
      if (seen.size >= atMost) seen.clear();
      seen.set(text, value);
      return value;
    },
  };
}
