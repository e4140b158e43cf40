import type { Arithmetic } from '../../../check/assessed-step.ts';
import type { DriftCheck, DriftedReflector, DriftResult } from '../../../check/drift.ts';
import type { Verdict, VerdictOutcome } from '../../../check/verdict.ts';
import { figures, figureWithUncertainty, figureWords } from '../../../origin/figure.ts';
import { verdictWords } from '../../../origin/verdict-words.ts';
import { originOf } from '../../../origin.ts';
import { html, type Markup } from '../markup.ts';
import { arithmeticLine, arithmeticLines, figure, given, type Section, table, verdictMark, words } from '../parts.ts';
import { signed } from '../plots/frame.ts';
import type { Report } from '../report-input.ts';

/** A verdict as the summary and its arithmetic show it. */
export interface VerdictLine {
  /** What was held against the rule: `distance error at 100 mm`. */
  readonly of: string;
  /** The capture or the check it was read from. */
  readonly where: string | null;
  readonly rule: string;
  readonly clause: string;
  readonly measured: string;
  readonly limit: string;
  readonly outcome: VerdictOutcome;
  readonly arithmetic: readonly Arithmetic[];
}

/** All verdicts of the evaluation, in the order in which the report shows them. */
export function verdictLines(report: Report): VerdictLine[] {
  const { drift } = report.evaluation;
  return drift === null ? [] : drift.checks.flatMap((check) => ofCheck(check, drift, report));
}

function ofCheck(check: DriftCheck, result: DriftResult, report: Report): VerdictLine[] {
  return check.reflectors.flatMap((reflector) =>
    reflector.verdicts.map((verdict) => ofReflector(check, reflector, verdict, result, report)),
  );
}

function ofReflector(
  check: DriftCheck,
  reflector: DriftedReflector,
  verdict: Verdict,
  result: DriftResult,
  { review, evaluation, style }: Report,
): VerdictLine {
  const isDistance = verdict.unit === 'mm';
  const { distanceMm } = reflector;
  const asked = { kind: 'drift', captureId: check.captureId, distanceMm } as const;
  const made = originOf(
    { ...asked, figure: isDistance ? 'distance-error' : 'amplitude-change' },
    review,
    evaluation,
    style,
  );
  const decided = originOf({ ...asked, figure: 'verdict' }, review, evaluation, style);
  const known = verdict.measured;
  const decision = decided?.formula?.withNumbers.split('\n')[reflector.verdicts.indexOf(verdict)];
  return {
    of: `${isDistance ? 'distance error' : 'amplitude change'} at ${figureWords(figures.statedMm(distanceMm, style), style)}`,
    where: check.captureId,
    rule: result.rule?.title ?? verdict.rule,
    clause: verdict.clause,
    measured:
      known === null
        ? 'not measured'
        : figureWithUncertainty(isDistance ? figures.lengthMm(known, style) : figures.levelDb(known, style), style),
    limit: isDistance
      ? figureWords(figures.lengthMm(verdict.limit, style), style).replace(/^-/, '−')
      : `${signed(verdict.limit, 2)} dB`,
    outcome: verdict.outcome,
    arithmetic: [
      ...(made?.formula ? [made.formula] : []),
      ...(decided?.formula && decision !== undefined ? [{ text: decided.formula.text, withNumbers: decision }] : []),
    ],
  };
}

const order: readonly VerdictOutcome[] = ['fail', 'inconclusive', 'not-assessed', 'pass'];

/** `3 fail, 1 inconclusive, 32 pass`; that there are none, where there are none. */
export function countsInWords(lines: readonly VerdictLine[]): string {
  const counts = order.map((outcome) => ({ outcome, count: lines.filter((line) => line.outcome === outcome).length }));
  const said = counts.filter(({ count }) => count > 0).map(({ outcome, count }) => `${count} ${verdictWords[outcome]}`);
  return said.length === 0 ? 'no verdict: no rule was chosen for anything in this review' : said.join(', ');
}

export function verdictSummarySection(lines: readonly VerdictLine[]): Section {
  return {
    id: 'verdicts',
    title: 'All verdicts',
    body:
      lines.length === 0
        ? html`<p>There is ${countsInWords(lines)}.</p>
`
        : html`<p>${lines.length} verdicts: ${countsInWords(lines)}. The arithmetic of each stands in the last part but the signatures.</p>
${table(
  'Verdicts, each with its rule, clause and limit',
  [
    figure('No.'),
    words('What was held against the rule'),
    words('Read from'),
    words('Rule'),
    words('Clause'),
    figure('Measured'),
    figure('Limit'),
    words('Verdict'),
  ],
  lines.map((line, i) => [
    html`<a href="#verdict-${i + 1}">${i + 1}</a>`,
    line.of,
    line.where,
    line.rule,
    line.clause,
    line.measured,
    line.limit,
    verdictMark(line.outcome),
  ]),
)}`,
  };
}

/** The numbers put into the formula of each verdict, by its number in the summary. */
export function arithmeticSection(lines: readonly VerdictLine[]): Section | null {
  if (lines.length === 0) return null;
  const one = (line: VerdictLine, i: number): Markup => {
    const head = html`<strong id="verdict-${i + 1}">${i + 1}</strong> ${line.of}${line.where !== null && html`, ${given(line.where)}`}: ${verdictMark(line.outcome)}`;
    const [first, ...more] = line.arithmetic;
    if (first === undefined)
      return html`<li><div>${head}</div><div class="soft">Nothing was measured that could be put into a formula.</div></li>
`;
    return html`${arithmeticLine(head, {
      text: line.arithmetic.map(({ text }) => text).join('; '),
      withNumbers: [first, ...more].map(({ withNumbers }) => withNumbers).join('\n'),
    })}`;
  };
  return {
    id: 'arithmetic',
    title: 'Arithmetic of the verdicts',
    body: html`<p>Whoever works the figures out as they stand gets the results as they stand.</p>
${arithmeticLines(lines.map(one))}`,
  };
}
