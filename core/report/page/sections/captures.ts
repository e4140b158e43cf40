import { figures, figureWords } from '../../../origin/figure.ts';
import type { CaptureFacts } from '../../../steps/examine.ts';
import { unknown } from '../../../units/format-quantity.ts';
import { html } from '../markup.ts';
import { code, figure, given, type Section, table, words } from '../parts.ts';
import type { Report } from '../report-input.ts';

/** Every file with its SHA-256, so that a page in hand can be held against the files years later, and what is known of how each capture was taken. */
export function capturesSection(report: Report): Section {
  const { sources, evaluation, reviewFile, style } = report;
  const used = evaluation.captures;
  const row = (capture: CaptureFacts) => [
    capture.captureId,
    String(capture.samples),
    capture.gainDb === null ? null : figureWords(figures.levelDb(capture.gainDb, style), style),
    capture.positionMm === null ? null : figureWords(figures.statedMm(capture.positionMm, style), style),
    capture.takenAt,
    capture.instrument,
    capture.probe,
    capture.block,
    capture.temperatureC === null ? null : `${capture.temperatureC} °C`,
  ];
  return {
    id: 'captures',
    title: 'Captures',
    body: html`<p>The review ${given(reviewFile.name)} has the SHA-256 <span class="code">${reviewFile.sha256 ?? unknown}</span>. A file that was altered in a single byte has another one.</p>
${table(
  'Files',
  [words('File'), words('Holds'), figure('Bytes'), code('SHA-256')],
  sources.map(({ file, kind, bytes, sha256 }) => [
    file,
    kind === 'manifest' ? 'manifest' : 'captures',
    bytes === null ? 'not read' : String(bytes),
    sha256 ?? unknown,
  ]),
)}${
  used.length > 0 &&
  table(
    'Captures that results were made from',
    [
      words('Capture'),
      figure('Samples'),
      figure('Gain'),
      figure('Position'),
      words('Taken'),
      words('Instrument'),
      words('Probe'),
      words('Block'),
      figure('Temperature'),
    ],
    used.map(row),
  )
}`,
  };
}
