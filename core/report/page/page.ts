import { cautions } from '../../cautions.ts';
import { verdictSummary } from '../../check/verdict-summary.ts';
import { html, markupText } from './markup.ts';
import type { Section } from './parts.ts';
import { type ReportInput, reportOf } from './report-input.ts';
import { calibrationSection } from './sections/calibration.ts';
import { capturesSection } from './sections/captures.ts';
import { decisionsSection } from './sections/decisions.ts';
import { doubtsSection } from './sections/doubts.ts';
import { driftSection } from './sections/drift.ts';
import { indicationsSection } from './sections/indications.ts';
import { linearitySections } from './sections/linearity.ts';
import { locationSection } from './sections/location.ts';
import { overTimeSection } from './sections/over-time.ts';
import { materialSection, probesSection } from './sections/probes.ts';
import { readingsSection } from './sections/readings.ts';
import { recordSections, remarksSection, signaturesSection } from './sections/record.ts';
import { sensitivitySection } from './sections/sensitivity.ts';
import { arithmeticSection, outcomesTable, verdictSummarySection } from './sections/verdicts.ts';
import { pagePolicy, styleText } from './style.ts';

/**
 * The report as one page that needs nothing else: no script, no request, its own style alone, for the screen and for A4 or Letter.
 * A pure function: the same review, results and files give the same bytes. It bears no date of its own; dates in it are those that the captures and the record state.
 *
 * What it holds: the fields that ASME BPVC Section V, Article 4, T-490 and ISO 17640 ask of a record (from memory), and by common practice every file with its
 * SHA-256, the calibration's points and residuals, the verdicts with their arithmetic, what was decided, and the warnings that were shown.
 */
export function reportPage(input: ReportInput): string {
  const report = reportOf(input);
  const { review, program } = report;
  const summary = verdictSummary(review, report.evaluation, report.style);
  const sections = [
    ...recordSections(report),
    capturesSection(report),
    calibrationSection(report),
    readingsSection(report),
    locationSection(report),
    indicationsSection(report),
    driftSection(report),
    overTimeSection(report),
    ...linearitySections(report),
    sensitivitySection(report),
    probesSection(report),
    materialSection(report),
    verdictSummarySection(summary),
    arithmeticSection(summary),
    doubtsSection(report),
    decisionsSection(report),
    remarksSection(report),
    signaturesSection(report),
  ].filter((section) => section !== null);
  const title = review.title === '' ? 'Untitled review' : review.title;
  return `<!doctype html>\n${markupText(html`<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${pagePolicy}">
<meta name="referrer" content="no-referrer">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light">
<meta name="generator" content="${program.name} ${program.version}">
<title>${title}: calibration and examination record</title>
<style>${styleText}</style>
</head>
<body>
<header>
<p class="kind">Calibration and examination record, ultrasonic pulse-echo</p>
<h1><bdi>${title}</bdi></h1>
<p class="soft">Made by ${program.name} ${program.version} from the review and captures named below. This page bears no date of its own: dates in it are those that the captures and the record state, and the same review and captures give the same page, byte for byte.</p>
<div class="cautions">${cautions.map((caution) => html`<p>${caution}</p>`)}</div>
${outcomesTable(summary)}<nav aria-label="Parts"><ol>
${sections.map(
  ({ id, title: name }, i) => html`<li><a href="#${id}"><span class="number">${i + 1}</span>${name}</a></li>
`,
)}</ol></nav>
</header>
<main>
${sections.map(numbered)}</main>
</body>
</html>
`)}`;
}

function numbered({ id, title, body }: Section, i: number) {
  return html`<section id="${id}"${id === 'verdicts' && html` class="apart"`} aria-labelledby="${id}-title">
<h2 id="${id}-title"><span class="number">${i + 1}</span>${title}</h2>
${body}</section>
`;
}
