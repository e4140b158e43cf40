import { verdictSummary } from '../../../core/check/verdict-summary.ts';
import type { Evaluation } from '../../../core/evaluate.ts';
import { evaluateFiles } from '../../../core/evidence/evaluate-files.ts';
import type { Flag } from '../../../core/flag.ts';
import { type CaptureLookup, evaluationDocument } from '../../../core/report/document.ts';
import { settingsOf } from '../../../core/report/review-results.ts';
import { openReview } from '../../../core/review/open-review.ts';
import type { Review } from '../../../core/review/review.ts';
import { warningsAbout } from '../../../core/review/review-warnings.ts';
import { flagsOfScan } from '../../../core/steps/scan.ts';
import { flagsOfSensitivity } from '../../../core/steps/sensitivity.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { type Answer, flagLegend, refuseUnless, trustworthy, warningLines } from '../answer.ts';
import { readText, usable } from '../gather.ts';
import { linearityWords } from '../linearity-words.ts';
import { locationWords } from '../location-words.ts';
import { overTimeWords } from '../over-time-words.ts';
import { materialWords, probesWords } from '../probe-words.ts';
import { filesBeside } from '../review-files.ts';
import { indicationWords } from '../scan-words.ts';
import { sensitivityWords } from '../sensitivity-words.ts';
import { printable } from '../table.ts';
import { summaryWords } from '../verdict-words.ts';
import { calibrationWords } from './calibrate.ts';
import { driftWords } from './drift.ts';
import { readingWords } from './read.ts';

/** Everything that follows from a saved review. Files are read as the steps need them, relative to the review's folder, and held against their hashes. */
export function evaluateReview(file: string): Answer {
  const review = usable(openReview(file, readText(file).text)).value;
  const { evaluation, problems, warnings: found } = usable(evaluateFiles(review, filesBeside(file))).value;
  refuseUnless(evaluation.captures.length > 0 || review.sources.length === 0, problems);

  const warnings = [
    ...found,
    ...warningsAbout(review, file),
    ...(evaluation.sensitivity?.warnings ?? []),
    ...(evaluation.location?.warnings ?? []),
    ...(evaluation.scan?.warnings ?? []),
    ...(evaluation.driftOverTime?.warnings ?? []),
    ...(evaluation.probes?.warnings ?? []),
    ...linearityParts(evaluation).flatMap((part) => part.warnings),
  ];
  const flags = flagsOf(evaluation);
  const lookup = new Map(evaluation.captures.map((capture) => [capture.captureId, capture]));
  return {
    document: { ...evaluationDocument(evaluation, review, settingsOf(review)), warnings: warningLines(warnings) },
    words: () => evaluationWords(review, evaluation, lookup) + flagLegend(flags),
    trusted: isTrusted(review, evaluation),
    problems,
    warnings,
  };
}

/** All parts of an evaluation for a person to read. */
function evaluationWords(review: Review, evaluation: Evaluation, lookup: CaptureLookup): string {
  const linearity = linearityWords(evaluation.linearity, lookup);
  const parts = [
    printable(review.title),
    ...(evaluation.calibration === null ? [] : ['Distance calibration', calibrationWords(evaluation.calibration)]),
    ...(evaluation.readings === null ? [] : ['Readings', readingWords(evaluation.readings, lookup)]),
    ...(evaluation.location === null ? [] : ['Location', locationWords(evaluation.location, lookup)]),
    ...(evaluation.sensitivity === null ? [] : ['Sensitivity', sensitivityWords(evaluation.sensitivity, lookup)]),
    ...(evaluation.scan === null ? [] : ['Indications', indicationWords(evaluation.scan)]),
    ...(evaluation.drift === null ? [] : ['Drift checks', driftWords(evaluation.drift, lookup)]),
    ...(evaluation.driftOverTime === null ? [] : ['Drift over time', overTimeWords(evaluation.driftOverTime, lookup)]),
    ...(evaluation.probes === null ? [] : ['Probes', probesWords(evaluation.probes, lookup)]),
    ...(evaluation.material === null ? [] : ['Material', materialWords(evaluation.material, lookup)]),
    ...(linearity === '' ? [] : ['Linearity', linearity]),
    'All verdicts',
    summaryWords(verdictSummary(review, evaluation, metricStyle), lookup),
  ];
  return parts.join('\n\n');
}

/** Every verdict passes, and no figure is to be doubted. */
export function isTrusted(review: Review, evaluation: Evaluation): boolean {
  const { outcome } = verdictSummary(review, evaluation, metricStyle);
  return trustworthy(flagsOf(evaluation)) && (outcome === null || outcome === 'pass');
}

function linearityParts({ linearity: { timeBase, screenHeight, gain } }: Evaluation) {
  return [timeBase, screenHeight, gain].filter((part) => part !== null);
}

function flagsOf(evaluation: Evaluation): Flag[] {
  const { calibration, readings, drift, sensitivity, location, scan, probes } = evaluation;
  return [
    ...(calibration?.calibration?.flags ?? []),
    ...(calibration?.calibration?.points ?? []).flatMap((point) => point.flags),
    ...(readings?.readings ?? []).flatMap((reading) => reading.flags),
    ...(sensitivity === null ? [] : flagsOfSensitivity(sensitivity)),
    ...(location?.readings ?? []).flatMap((reading) => reading.flags),
    ...(scan === null ? [] : flagsOfScan(scan)),
    ...(probes?.captures ?? []).flatMap((pulse) => pulse.flags),
    ...linearityParts(evaluation).flatMap((part) => part.flags),
    ...(drift?.checks ?? []).flatMap((check) => [...check.flags, ...check.reflectors.flatMap((r) => r.flags)]),
  ];
}
