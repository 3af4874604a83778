import { evidenceOpens } from '@musterbook/replay/bundle-file'

/**
 * One file that checks itself: the evidence as data, and the very code that folds and scores on every screen. It loads nothing;
 * its own policy forbids it to.
 */
export function bundlePage(title: string, evidence: string, viewer: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<title>${escaped(title)}</title>
<style>
body { color: #111; background: #fff; font: 1rem/1.5 system-ui, sans-serif; margin: 0 auto; max-width: 50rem; padding: 1rem; }
code { font: 1rem ui-monospace, monospace; overflow-wrap: anywhere; }
section[role=status] { border: 3px solid #111; padding: 0 1rem; }
section.fails { border-style: double; border-width: 9px; }
li { margin-block: 0.3rem; }
</style>
</head>
<body>
<main id="page"><p>This file checks itself with a script, offline. Where scripts are off it shows nothing else.</p></main>
${evidenceOpens}${evidence}</script>
<script>${viewer.replaceAll('</script', '<\\/script')}</script>
</body>
</html>
`
}

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;')
