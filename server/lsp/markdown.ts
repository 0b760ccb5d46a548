/** A log's own words in Markdown: no markup, link, picture or HTML of theirs is followed. */
export function escaped(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f]/g, ' ').replace(/[\\`*_{}[\]<>()#+\-.!|~&$:@]/g, '\\$&');
}
