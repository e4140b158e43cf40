import type { Arithmetic } from '../../../check/assessed-step.ts';
import {
  judgedParts,
  outcomesInOrder,
  type SummarisedVerdict,
  type VerdictCounts,
  type VerdictSummary,
} from '../../../check/verdict-summary.ts';
import { flagTexts } from '../../../flag.ts';
import { verdictWords } from '../../../origin/verdict-words.ts';
import { formatQuantity } from '../../../units/format-quantity.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import { arithmeticLines, figure, given, name, type Section, table, verdictMark, withMinus, words } from '../parts.ts';
import { signed } from '../plots/frame.ts';

/** `3 fail, 1 inconclusive, 32 pass`. */
export function countsInWords(counts: VerdictCounts): string {
  return outcomesInOrder
    .filter((outcome) => counts[outcome] > 0)
    .map((outcome) => `${counts[outcome]} ${verdictWords[outcome]}`)
    .join(', ');
}

/** What came of each part, for the first page. */
export function outcomesTable({ parts }: VerdictSummary): Markup {
  if (parts.length === 0)
    return html`<p class="lead">No verdict: no rule was chosen for anything in this review.</p>
`;
  return table(
    'What came of it',
    [words('Check'), words('Verdicts'), words('Outcome')],
    parts.map(({ part, counts, outcome }) => [
      html`<a href="#verdicts-${part}">${inSentence(judgedParts[part])}</a>`,
      countsInWords(counts),
      verdictMark(outcome),
    ]),
  );
}

const inSentence = (name: string) => name.charAt(0).toUpperCase() + name.slice(1);

type Numbered = SummarisedVerdict & { readonly number: number };

/** All verdicts, those to be looked at first foremost. */
export function verdictSummarySection(summary: VerdictSummary): Section | null {
  if (summary.verdicts.length === 0) return null;
  const numbered = summary.verdicts.map((verdict, i) => ({ ...verdict, number: i + 1 }));
  return {
    id: 'verdicts',
    title: 'All verdicts',
    body: html`<p>${summary.verdicts.length} verdicts: ${countsInWords(summary.counts)}. Those to be looked at come first. The arithmetic of each stands in the next part, under its number.</p>
${summary.parts.map(
  ({
    part,
  }) => html`<div id="verdicts-${part}">${byRule(numbered.filter((one) => one.part === part)).map(ruleTable)}</div>
`,
)}`,
  };
}

/** Verdicts by one rule and clause stand together; each keeps its number. */
function byRule(verdicts: readonly Numbered[]): Numbered[][] {
  const groups = new Map<string, Numbered[]>();
  for (const one of verdicts) {
    const key = JSON.stringify([one.rule.name, one.verdict.clause]);
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()];
}

function ruleTable(verdicts: readonly Numbered[]): Markup {
  const { part, rule, verdict } = verdicts[0];
  return html`${table(
    `${inSentence(judgedParts[part])} by ${rule.title}, ${rule.edition}, ${verdict.clause}`,
    [
      figure('No.'),
      words('What was held against the rule'),
      name('Read from'),
      figure('Measured'),
      figure('Limit'),
      words('Verdict'),
    ],
    verdicts.map((one) => [
      html`<a href="#verdict-${one.number}">${one.number}</a>`,
      one.judged,
      one.captureId,
      measured(one),
      limit(one),
      verdictMark(one.verdict.outcome),
    ]),
  )}<p class="soft">Source of the figures: ${rule.source}</p>
`;
}

/** Fewest decimals of a deviation and its limit. */
const least: Readonly<Record<SummarisedVerdict['verdict']['unit'], number>> = { mm: 2, dB: 2, '%': 1, '°': 1 };

function measured({ verdict }: SummarisedVerdict): string {
  return verdict.measured === null
    ? 'not measured'
    : `${formatQuantity(verdict.measured, least[verdict.unit])} ${verdict.unit}`;
}

function limit({ verdict, limits }: SummarisedVerdict): string | null {
  if (limits === null || !Number.isFinite(verdict.limit)) return null;
  return `${signed(verdict.limit, least[verdict.unit])} ${verdict.unit}`;
}

/** The numbers put into the formula of each verdict, by its number in the summary; each formula stands once, above them. */
export function arithmeticSection({ verdicts }: VerdictSummary): Section | null {
  if (verdicts.length === 0) return null;
  const lines = verdicts.map((verdict) => ({ verdict, arithmetic: verdict.arithmetic() }));
  const formulas = [...new Set(lines.flatMap(({ arithmetic }) => arithmetic.map(({ text }) => text)))];
  const named = (text: string) => `F${formulas.indexOf(text) + 1}`;
  return {
    id: 'arithmetic',
    title: 'Arithmetic of the verdicts',
    body: html`<p>Whoever works the figures out as they stand gets the results as they stand.</p>
<dl class="formulas">${formulas.map((text) => html`<dt>${named(text)}</dt><dd>${text}</dd>`)}</dl>
${arithmeticLines(lines.map(({ verdict, arithmetic }, i) => lineOf(verdict, arithmetic, i + 1, named)))}`,
  };
}

function lineOf(
  { judged, captureId, verdict, remark, flags }: SummarisedVerdict,
  arithmetic: readonly Arithmetic[],
  number: number,
  named: (formula: string) => string,
): Markup {
  const doubts: Shown = flags.map((flag) => ` ${flag}: ${flagTexts[flag].sentence}`);
  return html`<li><div><strong id="verdict-${number}">${number}</strong> ${judged}${captureId !== null && html`, ${given(captureId)}`}: ${verdictMark(verdict.outcome)}${remark !== null && html` ${remark}`}${doubts}</div>${
    arithmetic.length === 0
      ? html`<div class="soft">Nothing was measured that could be put into a formula.</div>`
      : html`<dl>${arithmetic.map(({ text, withNumbers }) => html`<dt>${named(text)}</dt><dd class="withnumbers">${withMinus(withNumbers)}</dd>`)}</dl>`
  }</li>
`;
}
