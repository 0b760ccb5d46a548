/**
 * A log's own words in Markdown: no markup, link, picture or HTML of theirs is followed. What could be none is left as it
 * is, as some editors show the backslashes: `K26.1..12`, `side-veneer`, `look: green`.
 */
export function escaped(text: string): string {
  return text
    .replace(/[\u0000-\u001f\u007f]/g, ' ')
    .replace(/[\\`*_{}[\]<>()#+!|~&$@]|-(?=-)|(?<=-)-|^\s*-|\.(?=\p{L})|:(?=\S)|(?<=^\s*\d+)\.(?!\S)/gu, (sign) =>
      sign.replace(/\S$/, '\\$&'),
    );
}

/** The same for editors that show no Markdown: without its marks, drawings and backslashes. */
export function plainText(markdown: string): string {
  return markdown
    .replace(/!\[[^\]]*\]\([^)]*\)/g, '')
    .replace(/```\w*\n|\n```|(?<!\\)\*\*|(?<!\\)`/g, '')
    .replace(/\\([^\w\s])/g, '$1');
}
