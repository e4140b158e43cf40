import type { CaptureId } from '../../core/capture/capture.ts';
import type { LinearityStep } from '../../core/linearity/linearity-step.ts';
import type { LinearityPart } from '../../core/linearity/part.ts';
import type { LinearityRule } from '../../core/linearity/rule.ts';
import type { CaptureLookup } from '../../core/report/document.ts';
import type { GainCheck, LinearityResult, ScreenHeightCheck, TimeBaseCheck } from '../../core/steps/linearity.ts';
import { formatNumber, formatQuantity, unknown } from '../../core/units/format-quantity.ts';
import { left, printable, right, table } from './table.ts';

/** Verdicts as they stand in a table. */
const verdictWords = {
  pass: 'pass',
  fail: 'fail',
  inconclusive: 'inconclusive',
  'not-assessed': 'not assessed',
} as const;

const decimals = { '%': 2, dB: 3, mm: 3, µs: 4 } as const;

export function timeBaseWords(check: TimeBaseCheck, captures: CaptureLookup): string {
  const { definition, rangeUs, rangeFrom, doubts } = check;
  const line = {
    'end-points': 'the first and the last of them',
    'least-squares': 'all of them, by least squares',
    anchors:
      definition.kind === 'anchors'
        ? `echoes ${definition.anchors.map(({ echo, percent }) => `${echo} on the ${percent} % mark`).join(' and ')}`
        : '',
  }[definition.kind];
  const from = { stated: 'as stated', anchors: 'by these marks', span: 'the span of the reflectors', none: '' }[
    rangeFrom ?? 'none'
  ];
  const range = rangeUs === null ? '' : ` Full range: ${formatNumber(rangeUs, 3)} µs, ${from}.`;
  const heads = [
    left('step'),
    left('capture'),
    right('time µs'),
    right('on the line µs'),
    right('deviation %'),
    right('limits %'),
    left('verdict'),
  ];
  return joined([
    table(
      heads,
      check.steps.map((step) => row(step, captures)),
    ),
    `Deviation from the straight line through ${line}, in % of the full range.${range}`,
    ...endWords(check, captures),
    doubts.map(({ sentence }) => printable(sentence)).join('\n'),
  ]);
}

export function screenHeightWords(check: ScreenHeightCheck, captures: CaptureLookup): string {
  const heads = [
    left('step'),
    left('capture'),
    right('read %'),
    right('expected %'),
    right('deviation %'),
    right('limits %'),
    left('verdict'),
  ];
  const order = check.form === 'stepped-gain' ? orderWords[check.order] : '';
  return joined([
    table(
      heads,
      check.steps.map((step) => row(step, captures)),
    ),
    order,
    ...endWords(check, captures),
  ]);
}

export function gainWords(check: GainCheck, captures: CaptureLookup): string {
  const { points, qualified, rule, steps } = check;
  const byTable = rule !== null && rule.form === 'table';
  const unit = byTable ? '%' : 'dB';
  const heads = [
    left('step'),
    left('capture'),
    right('read %'),
    right('expected %'),
    right(byTable ? 'deviation %' : 'error dB'),
    right(`limits ${unit}`),
    left('verdict'),
    right('total error dB'),
  ];
  const totals = new Map(points.map((point) => [point.captureId, point.totalErrorDb]));
  const rows = steps.map((step) => [
    ...row(step, captures),
    step.captureId === null || byTable ? unknown : formatQuantity(totals.get(step.captureId) ?? null, 2),
  ]);
  const range =
    qualified === null
      ? ''
      : `Within ${rule !== null && rule.form === 'run' ? rule.totalDb : ''} dB of total error from ${formatNumber(qualified.fromDb, 1)} to ${formatNumber(qualified.toDb, 1)} dB of gain (the widest such part; ${formatQuantity(qualified.totalDb, 2)} dB in it).`;
  return joined([table(heads, rows), orderWords[check.order], range, ...endWords(check, captures)]);
}

/** Every part that was asked for, under its heading. */
export function linearityWords({ timeBase, screenHeight, gain }: LinearityResult, captures: CaptureLookup): string {
  return joined([
    timeBase === null ? '' : `Time base\n\n${timeBaseWords(timeBase, captures)}`,
    screenHeight === null ? '' : `Screen height\n\n${screenHeightWords(screenHeight, captures)}`,
    gain === null ? '' : `Gain\n\n${gainWords(gain, captures)}`,
  ]);
}

const orderWords = {
  'step-table': 'The captures stand in the order of the step table.',
  'time-taken': 'The captures stand in the order in which they were taken.',
  'as-given': 'The captures stand in the order given: not all of them say when they were taken.',
} as const;

const joined = (parts: readonly string[]): string => parts.filter((part) => part !== '').join('\n\n');

function row(step: LinearityStep, captures: CaptureLookup): string[] {
  const least = decimals[step.readUnit];
  return [
    step.name,
    nameOf(step.captureId, captures),
    formatQuantity(step.read, step.readUnit === '%' ? 1 : least),
    step.expected === null ? unknown : formatNumber(step.expected.value, step.readUnit === '%' ? 1 : least),
    formatQuantity(step.deviation, decimals[step.unit]),
    limitWords(step),
    step.verdict === null ? '' : verdictWords[step.verdict.outcome],
  ];
}

function limitWords({ limits }: LinearityStep): string {
  if (limits === null) return '';
  const { lower, upper } = limits;
  if (!Number.isFinite(lower) && !Number.isFinite(upper)) return '';
  if (!Number.isFinite(upper)) return `at least ${short(lower)}`;
  if (!Number.isFinite(lower)) return `at most ${short(upper)}`;
  return lower === -upper ? `±${short(upper)}` : `${short(lower)} to ${short(upper)}`;
}

const short = (value: number): string => String(Number(value.toFixed(3)));

/** The trace is named where the file has more than one. */
function nameOf(captureId: CaptureId | null, captures: CaptureLookup): string {
  if (captureId === null) return unknown;
  const capture = captures.get(captureId);
  if (capture === undefined) return captureId;
  const several = [...captures.values()].filter(({ file }) => file === capture.file).length > 1;
  return several ? `${capture.file}#${capture.trace}` : capture.file;
}

/** So many captures that serve no step are named; of more, their number. */
const mostNamed = 8;

function endWords(part: LinearityPart<LinearityRule>, captures: CaptureLookup): string[] {
  const { rule, conclusions, unused, outcome, greatest, steps, decision } = part;
  const all = [...steps, ...conclusions];
  const remarks = all
    .filter(({ remark }) => remark !== null)
    .map(({ name, remark }) => `  ${name}: ${printable(remark ?? '')}`);
  const together = conclusions.map((step) => [
    step.name,
    formatQuantity(step.deviation, 2),
    limitWords(step),
    step.verdict === null ? '' : verdictWords[step.verdict.outcome],
  ]);
  const left_ = unused
    .slice(0, mostNamed)
    .map(({ captureId, reason }) => printable(`  ${nameOf(captureId, captures)}: ${reason}`));
  const more = unused.length > mostNamed ? [`  and ${unused.length - mostNamed} more`] : [];
  const deviation = greatest === null ? null : steps[greatest].deviation;
  const greatestWords =
    greatest === null || deviation === null
      ? ''
      : `Greatest ${steps[greatest].unit === 'dB' ? 'error of a step' : 'deviation'}: ${formatQuantity(deviation, decimals[steps[greatest].unit])} ${steps[greatest].unit} (${steps[greatest].name}).`;
  return [
    conclusions.length === 0
      ? ''
      : table([left('of all steps together'), right('dB'), right('limits'), left('verdict')], together),
    greatestWords,
    remarks.length === 0 ? '' : `Remarks\n${remarks.join('\n')}`,
    unused.length === 0 ? '' : `Captures that serve no step\n${[...left_, ...more].join('\n')}`,
    arithmeticWords(all),
    ruleWords(rule, decision, outcome),
  ];
}

/** Each formula once, then its steps with the numbers put in. */
function arithmeticWords(steps: readonly LinearityStep[]): string {
  const byFormula = new Map<string, string[]>();
  for (const { name, arithmetic } of steps) {
    if (arithmetic === null) continue;
    byFormula.set(arithmetic.text, [...(byFormula.get(arithmetic.text) ?? []), `  ${name}: ${arithmetic.withNumbers}`]);
  }
  return [...byFormula].map(([text, lines]) => `Arithmetic: ${text}\n${lines.join('\n')}`).join('\n');
}

function ruleWords(
  rule: LinearityRule | null,
  decision: string,
  outcome: LinearityPart<LinearityRule>['outcome'],
): string {
  if (rule === null) return 'No rule was chosen: these are figures without verdicts. Choose one with --rule.';
  const verdict =
    outcome === null ? 'The rule has no limits: figures without a verdict.' : `Verdict: ${verdictWords[outcome]}.`;
  const simple = decision === 'simple-acceptance' ? ' (simple acceptance: uncertainties left out, as chosen)' : '';
  return [
    `${verdict}${simple}`,
    printable(`Rule ${rule.name}: ${rule.title}, ${rule.edition}, ${rule.clause}.`),
    printable(`Source of its figures: ${rule.source}`),
  ].join('\n');
}
