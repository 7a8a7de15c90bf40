/** The page of the preview as HTML: a frame without content, which its script fills. */

export interface PageParts {
  /** Where the page may take files of the extension from. */
  readonly source: string;
  readonly script: string;
  readonly style: string;
  /** Used once. */
  readonly nonce: string;
}

/**
 * Nothing is allowed but the one script and the style sheets of the extension: what a site's text says is shown and can
 * never run, load or send anything.
 */
export function previewPage({ nonce, script, source, style }: PageParts): string {
  const policy = `default-src 'none'; script-src 'nonce-${nonce}'; style-src ${source}; base-uri 'none'; form-action 'none'`;
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${escaped(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Couplet drawing</title>
<link rel="stylesheet" href="${escaped(style)}">
</head>
<body>
<div id="preview"></div>
<script nonce="${nonce}" src="${escaped(script)}"></script>
</body>
</html>
`;
}

/** 128 bits of chance, in letters that need no escaping. */
export function freshNonce(): string {
  return [...globalThis.crypto.getRandomValues(new Uint8Array(16))]
    .map((byte) => byte.toString(16).padStart(2, '0'))
    .join('');
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('"', '&quot;').replaceAll('<', '&lt;');
}
