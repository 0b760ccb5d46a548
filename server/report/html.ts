/** A log's text in HTML: nothing in it can begin a tag, an attribute or an entity; control characters become blanks. */
export function escaped(text: string): string {
  return text
    .replace(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, ' ')
    .replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);
}

export interface Page {
  readonly title: string;
  readonly style: string;
  readonly body: string;
}

/** One file that asks for nothing: no script, no network, no picture from elsewhere. */
export function htmlPage({ title, style, body }: Page): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>${escaped(title)}</title>
<style>
${style}</style>
</head>
<body>
${body}
</body>
</html>
`;
}

/** A set of grafts, `F24.4,11..14,17`: on a narrow page it breaks behind a comma, never inside a number. */
export const setHtml = (set: string): string => escaped(set).replaceAll(',', ',<wbr>');
