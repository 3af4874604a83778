/** Ink on paper: near-black, no meaning in colour. */
const sheet = `
:root { color: #111; background: #fff; font: 11pt/1.35 'Atkinson Hyperlegible Next Variable', 'Atkinson Hyperlegible Next', system-ui, sans-serif; }
body { margin: 0 auto; max-width: 190mm; padding: 6mm; }
h1 { font-size: 18pt; margin: 0 0 2mm; }
h2 { font-size: 13pt; margin: 4mm 0 1.5mm; break-after: avoid; }
h3 { font-size: 11pt; margin: 2mm 0 0.5mm; break-after: avoid; }
p, ul, ol, dl { margin: 0 0 2mm; }
table { border-collapse: collapse; width: calc(100% - 0.4mm); margin-inline: 0.2mm; font-variant-numeric: tabular-nums; }
th, td { border: 0.3mm solid #555; padding: 1mm 2mm; text-align: start; vertical-align: top; }
thead { display: table-header-group; }
tr, .card, section.try { break-inside: avoid; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 0.5mm 4mm; }
dt { font-weight: 700; }
dd { margin: 0; }
.digest { font-family: 'Atkinson Hyperlegible Mono Variable', ui-monospace, monospace; font-size: 9pt; overflow-wrap: anywhere; }
figure { break-inside: avoid; margin: 0 0 4mm; }
figure img { display: block; max-width: 100%; max-height: 90mm; margin: 1mm 0; }
.quiet { font-size: 9pt; line-height: 1.25; }
.rehearsal { border: 1mm solid #111; font-weight: 700; padding: 1mm 3mm; text-align: center; text-transform: uppercase; }
body:has(.paper-sheet) { page: pack; max-width: 273mm; }
.paper-sheet { break-after: page; }
.paper-sheet:last-child { break-after: auto; }
.paper-sheet th { font-size: 9pt; line-height: 1.2; }
.paper-sheet table { table-layout: fixed; }
.paper-sheet tbody td { height: 10.5mm; padding: 0.5mm 1mm; }
.paper-sheet .paper-bib { width: 13mm; }
.paper-sheet h1 { margin: 0; font-size: 15pt; }
.paper-sheet p { margin: 0 0 1mm; }
.paper-sheet .paper-name { border-right: 0.6mm dashed #111; width: 34mm; }
.paper-small { font-size: 8pt; line-height: 1.3; }
.paper-try { vertical-align: bottom; }
.paper-under { display: block; font-size: 6.5pt; line-height: 1.2; }
.paper-fill { margin-top: 3.6mm; }
.paper-code { font-size: 9pt; }
.paper-head { display: flex; justify-content: space-between; gap: 6mm; }
.paper-head svg { width: 20mm; height: 20mm; }
.cards { display: grid; grid-template-columns: repeat(3, 1fr); gap: 4mm; }
.card { border: 0.4mm dashed #555; padding: 3mm; text-align: center; }
.card svg { width: 34mm; height: 34mm; }
.card .bib { font-size: 28pt; font-weight: 700; margin: 0; }
.badges { display: grid; grid-template-columns: repeat(2, 86mm); gap: 4mm; justify-content: center; }
.badge { box-sizing: border-box; height: 54mm; border: 0.3mm dashed #555; border-radius: 3mm; padding: 3mm; break-inside: avoid; overflow: hidden; display: grid; grid-template: auto 1fr auto / 1fr 30mm; gap: 1mm 3mm; }
.badge p, .badge h2, .badge figure { margin: 0; }
.badge-site { grid-column: 1 / 3; font-size: 9pt; }
.badge h2 { font-size: 17pt; line-height: 1.15; overflow-wrap: anywhere; }
.badge-who p { font-size: 11pt; line-height: 1.25; margin-top: 1mm; }
.badge figure { text-align: center; }
.badge svg { display: block; width: 30mm; height: 30mm; }
.badge figcaption { font-size: 11pt; font-weight: 700; font-variant-numeric: tabular-nums; letter-spacing: 0.3mm; }
.badge-foot { grid-column: 1 / 3; font-size: 8pt; }
.bib-sheet { position: relative; box-sizing: border-box; height: 116mm; break-inside: avoid; text-align: center; overflow: hidden; }
.bib-sheet:nth-of-type(2n) { break-after: page; }
.bib-sheet .number { font-size: 230pt; font-weight: 700; line-height: 0.84; margin: 3mm 0 0; font-variant-numeric: tabular-nums; }
.bib-sheet .number.long { font-size: 165pt; line-height: 1.1; }
.spoken { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
.bib-sheet svg { width: 30mm; height: 30mm; }
.bib-sheet .of-day { font-size: 11pt; margin: 0; }
.bib-sheet i { position: absolute; width: 6mm; height: 6mm; border: 0 solid #111; }
.bib-sheet i.top { top: 0; border-top-width: 0.3mm; }
.bib-sheet i.foot { bottom: 0; border-bottom-width: 0.3mm; }
.bib-sheet i.left { left: 0; border-left-width: 0.3mm; }
.bib-sheet i.right { right: 0; border-right-width: 0.3mm; }
main:has(.bib-sheet, .paper-sheet) + footer { display: none; }
.names { min-width: 40mm; }
table.marked { width: 100%; margin: 0; }
table.marked, table.marked > thead > tr > td, table.marked > tbody > tr > td { border: 0; padding: 0; }
table.marked > thead > tr > td { border-bottom: 0.3mm solid #555; padding: 0 0 1mm; }
table.marked > tbody > tr { break-inside: auto; }
blockquote { border-inline-start: 1mm solid #555; margin: 0 0 2mm; padding-inline-start: 3mm; white-space: pre-wrap; }
.emergency-card p { white-space: pre-line; }
.emergency-card h2 { margin: 3mm 0 1mm; }
.emergency-card .first { border: 1mm solid #111; padding: 2mm 4mm; font-size: 14pt; font-weight: 650; }
.emergency-card .call { font-size: 16pt; font-weight: 700; }
.emergency-card .columns { display: grid; grid-template-columns: 1fr 1fr; gap: 0 8mm; }
main > :last-child { break-after: avoid; }
footer { break-before: avoid; break-inside: avoid; border-top: 0.3mm solid #555; font-size: 9pt; margin-top: 2mm; padding-top: 1mm; }
.screens { display: grid; grid-template-columns: repeat(auto-fill, minmax(70mm, 1fr)); gap: 3mm; margin-top: 6mm; padding: 0; list-style: none; }
.screens a { display: flex; align-items: center; min-height: 14mm; height: 100%; padding: 1mm 4mm; box-sizing: border-box; border: 0.5mm solid #111; border-radius: 2mm; color: inherit; font-size: 13pt; font-weight: 650; line-height: 1.25; text-decoration: none; }
.screens a:hover, .screens a:focus-visible { background: #103b45; color: #fff; outline: 1mm solid #103b45; outline-offset: 0.6mm; }
@media print { body { max-width: none; padding: 0; } }
`

/** Letter is 18 mm shorter than A4: its head and foot are narrower. */
const paper = (size: 'A4' | 'letter') =>
  `@page { size: ${size}; margin: ${size === 'A4' ? '14mm' : '10mm'} 12mm; @bottom-right { content: counter(page) ' / ' counter(pages); font-size: 9pt; } }\n@page pack { size: ${size} landscape; margin: 10mm 12mm; }\n`

export const stylesheets = { 'sheet.css': sheet, 'a4.css': paper('A4'), 'letter.css': paper('letter') }
