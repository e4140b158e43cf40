import { figures, figureWords } from '../../../origin/figure.ts';
import type { CaptureFacts } from '../../../steps/examine.ts';
import type { FigureStyle } from '../../../units/figure-style.ts';
import { unknown } from '../../../units/format-quantity.ts';
import { html, type Markup } from '../markup.ts';
import { code, figure, given, name, type Section, table, words } from '../parts.ts';
import type { Report } from '../report-input.ts';

/** Every file with its SHA-256, so that a page in hand can be held against the files years later, and what is known of how each capture was taken. */
export function capturesSection(report: Report): Section {
  const { sources, evaluation, reviewFile, style } = report;
  return {
    id: 'captures',
    title: 'Captures',
    body: html`<p>The review ${given(reviewFile.name)} has the SHA-256 <span class="code">${reviewFile.sha256 ?? unknown}</span>. A file that was altered in a single byte has another one.</p>
${table(
  'Files',
  [name('File'), words('Holds'), figure('Bytes'), code('SHA-256')],
  sources.map(({ file, kind, bytes, sha256 }) => [
    file,
    kind === 'manifest' ? 'manifest' : 'captures',
    bytes === null ? 'not read' : String(bytes),
    sha256 ?? unknown,
  ]),
)}${bySetUp(evaluation.captures).map((captures) => setUpTable(captures, style))}`,
  };
}

/** Captures taken with the same instrument, probe and block stand together, in the review's order. */
function bySetUp(captures: readonly CaptureFacts[]): CaptureFacts[][] {
  const groups = new Map<string, CaptureFacts[]>();
  for (const capture of captures) {
    const key = JSON.stringify([capture.instrument, capture.probe, capture.block]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [capture]);
    else group.push(capture);
  }
  return [...groups.values()];
}

function setUpTable(captures: readonly CaptureFacts[], style: FigureStyle): Markup {
  const { instrument, probe, block } = captures[0];
  const stated = [
    instrument === null ? null : `instrument ${instrument}`,
    probe === null ? null : `probe ${probe}`,
    block === null ? null : `block ${block}`,
  ].filter((part) => part !== null);
  return table(
    stated.length === 0 ? 'Taken with what, the files do not say' : `Taken with ${stated.join('; ')}`,
    [
      name('Capture'),
      figure('Samples'),
      figure('Interval'),
      words('Amplitude'),
      figure('Gain'),
      figure('Position'),
      words('Taken'),
      figure('Temperature'),
    ],
    captures.map((capture) => [
      capture.captureId,
      String(capture.samples),
      figureWords(figures.timeUs(capture.stepUs, style), style),
      `${capture.amplitudeUnit === null ? 'unit not stated' : unitWords[capture.amplitudeUnit]}, ${rectificationWords[capture.rectification]}`,
      capture.gainDb === null ? null : figureWords(figures.levelDb(capture.gainDb, style), style),
      capture.positionMm === null ? null : figureWords(figures.statedMm(capture.positionMm, style), style),
      capture.takenAt,
      capture.temperatureC === null ? null : `${capture.temperatureC} °C`,
    ]),
  );
}

const unitWords = { percent: '% FSH', volt: 'V', count: 'counts' } as const;
const rectificationWords = {
  rf: 'RF',
  full: 'full-wave rectified',
  positive: 'positive half wave',
  negative: 'negative half wave',
  envelope: 'envelope',
} as const;
