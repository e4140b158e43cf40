import type { DriftCheck, DriftResult } from '../../../core/check/drift.ts';
import { causeTexts } from '../../../core/check/drift-cause.ts';
import { publishedRules, readRule } from '../../../core/check/rule.ts';
import type { Flag } from '../../../core/flag.ts';
import { type CaptureLookup, captureLookup, driftDocument } from '../../../core/report/document.ts';
import { overTimeDocument } from '../../../core/report/over-time-document.ts';
import { type DriftDecision, emptyReview, type Reflector, type Review } from '../../../core/review/review.ts';
import { concludeDrift, planForDrift } from '../../../core/steps/check-drift.ts';
import { concludeOverTime } from '../../../core/steps/over-time.ts';
import { formatNumber, formatQuantity, unknown } from '../../../core/units/format-quantity.ts';
import { refuseUnless, trustworthy } from '../answer.ts';
import { examineFiles } from '../examine-files.ts';
import { gather, readText, usable } from '../gather.ts';
import { type LargeJobOptions, mannerFrom } from '../large-job.ts';
import { openedCalibration } from '../opened-calibration.ts';
import { conditioningFrom } from '../options.ts';
import { overTimeWords } from '../over-time-words.ts';
import { refuseArgument } from '../refusal.ts';
import { type Addition, inPieces, type StreamedAnswer } from '../streamed-answer.ts';
import { left, printable, right, table } from '../table.ts';

export interface DriftOptions extends LargeJobOptions {
  calibration?: string;
  reflector?: readonly Reflector[];
  amplitude?: number;
  threshold?: number;
  range?: number;
  rule?: string;
  simpleAcceptance?: boolean;
}

/** Holds check captures against the calibration: figures always, verdicts where a rule was chosen. */
export async function drift(words: readonly string[], options: DriftOptions): Promise<StreamedAnswer> {
  if (options.calibration === undefined)
    return refuseArgument(
      '--calibration',
      'give the calibration the checks are held against, as printed by calibrate --json',
    );
  const { given, calibration } = openedCalibration(options.calibration);
  const decision = decisionFrom(options);
  const gathered = await gather(words, options);
  const review: Review = {
    ...emptyReview,
    conditioning: conditioningFrom(options),
    calibration: given,
    drift: decision,
  };
  const plan = planForDrift(review, decision, calibration);
  const work = { ...gathered, plan, wanted: { kind: 'examinations', plan } } as const;
  const { jobs, job } = mannerFrom(options, work);
  const { examinations, problems, warnings } = await examineFiles(work, jobs, job);
  refuseUnless(examinations.length > 0, [...gathered.problems, ...problems]);

  const concluded = usable(concludeDrift(decision, calibration, given.points, examinations));
  const result = concluded.value;
  const captures = captureLookup(examinations.map((e) => e.capture));
  // Nothing was read of a part here, so nothing is to be looked at again.
  const { groups, warnings: aboutGroups } = concludeOverTime(result, captures, []);
  const overTime = { groups: groups.map((group) => ({ ...group, reexaminations: [] })), warnings: aboutGroups };
  async function* additions(): AsyncGenerator<Addition> {
    for (const checks of inPieces(result.checks))
      yield {
        elements: driftDocument({ ...result, checks }, captures).checks,
        rows: () => checks.flatMap((check) => rowsOf(check, captures)),
        flags: checks.flatMap(flagsOf),
        warnings: [],
        problems: [],
        isUsable: true,
      };
  }
  const { checks: _, ...rest } = driftDocument({ ...result, checks: [] }, captures);
  return {
    list: 'checks',
    element: 'check',
    columns,
    noRows: '',
    problems: [...gathered.problems, ...problems],
    warnings: [...gathered.warnings, ...warnings, ...concluded.warnings, ...aboutGroups],
    additions: additions(),
    end: () => ({
      document: { ...rest, over_time: overTimeDocument(overTime, captures) },
      words: `\n${belowTable(result, captures).join('\n')}\n\nOver time\n\n${overTimeWords(overTime, captures)}`,
      trusted: result.checks.every(
        (check) => (check.verdict === null || check.verdict === 'pass') && trustworthy(flagsOf(check)),
      ),
      warnings: [],
      problems: [],
    }),
  };
}

function flagsOf({ flags, reflectors }: DriftCheck): Flag[] {
  return [...flags, ...reflectors.flatMap((reflector) => reflector.flags)];
}

function decisionFrom(options: DriftOptions): DriftDecision {
  const reflectors = options.reflector ?? [];
  if (reflectors.length === 0)
    refuseArgument('--reflector', 'give at least one reflector of the calibration, as in --reflector 100mm@55us..75us');
  return {
    captures: [],
    reflectors: [...reflectors],
    amplitudePercent: options.amplitude ?? null,
    thresholdPercent: options.threshold ?? 5,
    rangeMm: options.range ?? null,
    decision: options.simpleAcceptance === true ? 'simple-acceptance' : 'with-uncertainty',
    rule: options.rule === undefined ? null : ruleFrom(options.rule),
  };
}

function ruleFrom(words: string): DriftDecision['rule'] {
  if (publishedRules.some((rule) => rule.name === words)) return { kind: 'published', name: words };
  if (!/[./\\]/.test(words)) {
    refuseArgument(
      '--rule',
      `"${words}" is no published rule (${publishedRules.map((rule) => rule.name).join(', ')}) and not the path of a rule file`,
    );
  }
  return { kind: 'own', rule: usable(readRule(words, readText(words).text)).value };
}

export function driftWords(result: DriftResult, captures: CaptureLookup): string {
  const rows = result.checks.flatMap((check) => rowsOf(check, captures));
  return [table(columns, rows), ...belowTable(result, captures)].join('\n');
}

const columns = [
  left('check'),
  left('taken at'),
  right('at mm'),
  right('error mm'),
  right('change dB'),
  right('zero offset µs'),
  right('velocity %'),
  left('verdict'),
  left('flags'),
];

function fileOf(id: string | null, captures: CaptureLookup): string {
  return id === null ? 'none' : (captures.get(id)?.file ?? id);
}

function rowsOf(check: DriftCheck, captures: CaptureLookup): string[][] {
  return check.reflectors.map((reflector, i) => [
    i === 0 ? fileOf(check.captureId, captures) : '',
    i === 0 ? (check.takenAt ?? unknown) : '',
    formatNumber(reflector.distanceMm, 1),
    formatQuantity(reflector.distanceErrorMm, 2),
    formatQuantity(reflector.amplitudeChangeDb, 1),
    i === 0 ? formatQuantity(check.zeroOffsetChangeUs, 3) : '',
    i === 0 ? formatQuantity(check.velocityChangePercent, 3) : '',
    i === 0 ? (check.verdict ?? unknown) : '',
    [...new Set([...(i === 0 ? check.flags : []), ...reflector.flags])].join(', '),
  ]);
}

/** The rule, and what it says of which checks: the lines below the table. */
function belowTable(result: DriftResult, captures: CaptureLookup): string[] {
  const remarks = new Map<string, string[]>();
  for (const check of result.checks) {
    const cause = check.cause === null || check.cause === 'none' ? [] : [causeTexts[check.cause]];
    for (const sentence of [...cause, ...check.consequences]) {
      const files = remarks.get(sentence) ?? [];
      files.push(fileOf(check.captureId, captures));
      remarks.set(sentence, files);
    }
  }
  const rule =
    result.rule === null
      ? 'No rule was chosen: these are figures without verdicts. Choose one with --rule.'
      : [
          `Rule ${result.rule.title}, ${result.rule.edition}, ${result.rule.clause}. First failing: ${fileOf(result.firstFailing, captures)}. Last passing before it: ${fileOf(result.lastPassing, captures)}.`,
          `Source of its figures: ${result.rule.source}`,
        ]
          .map(printable)
          .join('\n');
  return [
    '',
    rule,
    ...[...remarks].flatMap(([sentence, files]) => ['', printable(sentence), printable(`  ${files.join(', ')}`)]),
  ];
}
