/**
 * How the report looks, on screen and on paper: ink on white, one column, a rule above each part. Nothing is told by colour alone, so that a copy in black
 * and white says the same. No size of paper is set: the printer's own is used, A4 or Letter. It has none of the marks that markup escapes, so that it goes into
 * the page as any other text does.
 */
export const styleText = `
@page { margin: 16mm 15mm 18mm; @bottom-right { content: counter(page); font: 8pt sans-serif; color: #444; } }
* { box-sizing: border-box; }
html { color-scheme: light; background: #f2f1ed; -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; max-width: 210mm; padding: 14mm 15mm 18mm; background: #fff; color: #1b1f26;
  font: 400 10pt/1.45 Atkinson Hyperlegible Next, Atkinson Hyperlegible, Noto Sans, Liberation Sans, DejaVu Sans, sans-serif;
  font-variant-numeric: tabular-nums; overflow-wrap: break-word; }
h1 { margin: 0 0 2mm; font-size: 19pt; line-height: 1.2; font-weight: 650; }
h2 { margin: 11mm 0 3mm; padding-top: 2.5mm; border-top: 1.5pt solid #1b1f26; font-size: 13pt; line-height: 1.25; font-weight: 650; break-after: avoid; }
section.apart h2 { break-before: page; }
h2 .number { display: inline-block; min-width: 9mm; font-weight: 400; }
h3 { margin: 6mm 0 1.5mm; font-size: 10.5pt; font-weight: 650; break-after: avoid; }
p { margin: 0 0 2mm; max-width: 165mm; orphans: 3; widows: 3; }
a { color: inherit; text-decoration-thickness: 0.5pt; text-underline-offset: 2pt; }
a:focus-visible { outline: 2pt solid #1b1f26; outline-offset: 2pt; }
.kind { margin: 0 0 1mm; font-size: 9pt; letter-spacing: 0.02em; color: #4a505b; }
.lead { margin: 3mm 0 0; font-size: 11pt; }
.soft { color: #4a505b; font-size: 9pt; }
.lines { white-space: pre-line; }
nav ol { margin: 4mm 0 0; padding: 0; list-style: none; columns: 3; column-gap: 8mm; font-size: 9pt; }
nav li { break-inside: avoid; padding: 0.4mm 0; }
nav li a { display: grid; grid-template-columns: 6mm 1fr; text-decoration: none; }
nav li a:hover, nav li a:focus-visible { text-decoration: underline; }
nav .number { color: #4a505b; }
table { width: 100%; margin: 0 0 3mm; border-collapse: collapse; font-size: 8.5pt; line-height: 1.35; }
p.caption { margin: 0; padding: 2mm 0 1mm; max-width: none; font-size: 9pt; font-weight: 650; break-inside: avoid; break-after: avoid; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
tbody tr:first-child, tbody tr:nth-child(2) { break-before: avoid; }
th, td { padding: 1mm 1.6mm 0.9mm; border-bottom: 0.5pt solid #c9c6bf; text-align: left; vertical-align: top; unicode-bidi: isolate; overflow-wrap: anywhere; }
th:first-child, td:first-child { padding-left: 0; }
th:last-child, td:last-child { padding-right: 0; }
thead th { border-bottom: 1pt solid #1b1f26; font-weight: 650; vertical-align: bottom; overflow-wrap: normal; }
tbody th { font-weight: 400; }
th.figure, td.figure { text-align: right; }
td.figure, tbody th.figure { white-space: nowrap; }
td.words, th.words { min-width: 18mm; }
td.name, th.name { min-width: 36mm; }
.dense { font-size: 7.5pt; }
.dense th, .dense td { padding-left: 0.9mm; padding-right: 0.9mm; }
.dense td.words, .dense th.words { min-width: 15mm; }
.dense td.name, .dense th.name { min-width: 25mm; }
.code { font: 7.5pt/1.4 DejaVu Sans Mono, Liberation Mono, monospace; overflow-wrap: anywhere; }
.verdict { display: inline-block; padding: 0 1.6mm; border: 0.6pt solid currentColor; border-radius: 2.5mm; white-space: nowrap; }
.verdict-pass { color: #1d5f4e; }
.verdict-fail { color: #8d1526; border-width: 1.6pt; border-radius: 0; font-weight: 700; }
.verdict-inconclusive { color: #7a3510; border-style: dashed; border-width: 1pt; }
.verdict-not-assessed { color: #4a505b; border-style: dotted; border-width: 1pt; }
.arithmetic { margin: 0; padding: 1mm 0; list-style: none; }
.arithmetic li { padding: 1.6mm 0; border-bottom: 0.5pt solid #dedbd4; break-inside: avoid; font-size: 8.5pt; }
.arithmetic .withnumbers { white-space: pre-line; }
.arithmetic dl, dl.formulas { display: grid; grid-template-columns: 9mm 1fr; gap: 0.3mm 1mm; margin: 0.5mm 0 0; font-size: 8.5pt; }
dl.formulas { margin: 2mm 0 3mm; }
.arithmetic dt, .formulas dt { color: #4a505b; }
.arithmetic dd, .formulas dd { margin: 0; }
.notes { margin: 0 0 3mm; padding-left: 5mm; }
.notes li { padding: 0.4mm 0; }
.cautions { margin: 4mm 0.3mm 0; padding: 2.5mm 3mm; border: 0.75pt solid #1b1f26; font-size: 9.5pt; break-inside: avoid; }
.cautions p { margin: 0; max-width: none; }
.cautions p + p { margin-top: 1mm; }
.fields { display: grid; grid-template-columns: 1fr 1fr; gap: 0 8mm; margin: 0 0 2mm; }
.fields div { display: grid; grid-template-columns: 44mm 1fr; gap: 2mm; align-items: end; min-height: 7mm; padding: 1mm 0 0.6mm; break-inside: avoid; font-size: 9pt; }
.fields dt { color: #4a505b; align-self: start; padding-top: 0.5mm; }
.fields dd { margin: 0; min-height: 5mm; border-bottom: 0.5pt solid #8b8579; white-space: pre-line; overflow-wrap: anywhere; unicode-bidi: isolate; }
.fields .wide { grid-column: 1 / -1; }
.signatures { display: grid; grid-template-columns: 1fr 1fr; gap: 8mm; margin-top: 3mm; }
.signatures div { break-inside: avoid; }
.signatures dl { display: grid; grid-template-columns: 26mm 1fr; gap: 0 2mm; margin: 0; font-size: 9pt; }
.signatures dt { padding-top: 5mm; color: #4a505b; }
.signatures dd { margin: 0; padding-top: 5mm; min-height: 10mm; border-bottom: 0.5pt solid #8b8579; overflow-wrap: anywhere; }
.signatures .sign { min-height: 17mm; }
figure { margin: 3mm 0 4mm; break-inside: avoid; }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 0 6mm; align-items: start; }
.pair figure { margin: 1mm 0 2mm; }
.indication { break-inside: avoid; }
.facts { display: grid; grid-template-columns: 28mm 1fr 28mm 1fr; gap: 0.4mm 3mm; margin: 0 0 1mm; font-size: 8.5pt; }
.facts dt { color: #4a505b; }
.facts dd { margin: 0; overflow-wrap: anywhere; }
figcaption { font-size: 8.5pt; color: #4a505b; max-width: 165mm; }
svg { display: block; width: 100%; height: auto; font: 10.5px Atkinson Hyperlegible Next, Atkinson Hyperlegible, Noto Sans, Liberation Sans, DejaVu Sans, sans-serif; font-variant-numeric: tabular-nums; }
svg text { fill: #1b1f26; }
svg .tick { fill: #3c424d; }
svg .axis-title { font-size: 11px; }
svg .axis { stroke: #1b1f26; stroke-width: 1; }
svg .grid { stroke: #e2dfd9; stroke-width: 1; }
svg .zero { stroke: #1b1f26; stroke-width: 1; }
svg .limit { stroke: #8d1526; stroke-width: 1.4; stroke-dasharray: 7 4; }
svg .level { stroke: #4a505b; stroke-width: 1; stroke-dasharray: 2 3; }
svg .line, svg .line-dashed, svg .line-dotted { fill: none; stroke: #2b3a55; stroke-width: 1.4; }
svg .line-dashed { stroke-dasharray: 6 4; }
svg .line-dotted { stroke-dasharray: 1.5 3.5; }
svg .bar { fill: none; stroke: #2b3a55; stroke-width: 1; }
svg .mark-full { fill: #2b3a55; stroke: #2b3a55; stroke-width: 1.2; }
svg .mark-open { fill: #fff; stroke: #2b3a55; stroke-width: 1.4; }
svg .weld { fill: #eceae5; stroke: #4a505b; stroke-width: 1; stroke-dasharray: 4 2; }
svg .surface { fill: none; stroke: #1b1f26; stroke-width: 1.6; }
svg .spread { fill: #2b3a55; fill-opacity: 0.09; }
svg .ellipse { fill: #fff; fill-opacity: 0.55; stroke: #8d1526; stroke-width: 1.2; }
svg .corner { fill: none; stroke: #4a505b; stroke-width: 1.1; }
svg .mark-name { font-weight: 650; paint-order: stroke; stroke: #fff; stroke-width: 2.5px; }
svg .trace { fill: none; stroke: #2b3a55; stroke-width: 0.9; stroke-linejoin: round; }
svg .span { fill: #2b3a55; }
svg .span-open { fill: #fff; stroke: #2b3a55; stroke-width: 1.2; }
svg .mark-fail { fill: none; stroke: #8d1526; stroke-width: 2.4; }
@media screen and (max-width: 700px) {
  body { padding: 6mm 5mm; }
  .fields, .signatures, .pair { grid-template-columns: 1fr; }
  .facts { grid-template-columns: 28mm 1fr; }
  nav ol { columns: 1; }
  .scroll { overflow-x: auto; }
}
@media print {
  html { background: #fff; }
  body { max-width: none; padding: 0; font-size: 9.5pt; }
  nav { display: none; }
  a { text-decoration: none; }
  h2 { margin-top: 8mm; }
}
`;

/**
 * The SHA-256 of that text, as the page's content policy names it: no other style can come into the page. Core reckons no hashes; the test holds this one to the text,
 * and says what it must be where it is not.
 */
export const styleHash = 'sha256-wEQEjNLQ+wLzjpo/KzZj0KPbIkSh9eaSF3tYj94ILYA=';

/** What the page may load and do: show itself in its own style. No script, no picture, no font, no request, no form (Content Security Policy Level 3). */
export const pagePolicy = `default-src 'none'; style-src '${styleHash}'; base-uri 'none'; form-action 'none'`;
