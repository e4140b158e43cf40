import type { LinearityPart } from '../../../linearity/part.ts';
import type { LinearityRule } from '../../../linearity/rule.ts';
import type { GainCheck, ScreenHeightCheck, TimeBaseCheck } from '../../../steps/linearity.ts';
import { formatNumber, formatQuantity } from '../../../units/format-quantity.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import { figure, flagNotes, given, name, notes, type Section, table, verdictMark, withMinus } from '../parts.ts';
import { stepsPlot } from '../plots/steps-plot.ts';
import type { Report } from '../report-input.ts';
import { stepsTable } from './steps.ts';

/** The checks of the instrument itself, one part of the report for each that was asked for. */
export function linearitySections(report: Report): Section[] {
  const { timeBase, screenHeight, gain } = report.evaluation.linearity;
  return [
    timeBase && part('time-base', 'Time-base linearity', timeBase, report, timeBaseWords(timeBase)),
    screenHeight && part('screen-height', 'Screen-height linearity', screenHeight, report, formWords(screenHeight)),
    gain && part('gain', 'Gain linearity', gain, report, gainWords(gain)),
  ].filter((section) => section !== null);
}

function part(
  id: string,
  title: string,
  check: LinearityPart<LinearityRule>,
  report: Report,
  more: { readonly sentence: Shown; readonly after: Shown },
): Section {
  const said = [
    ...check.unused.map(({ captureId, reason }) => html`${given(captureId)} serves no step: ${reason}`),
    ...check.warnings.map(({ place, sentence }) => html`${given(place.file)}: ${sentence}`),
  ];
  return {
    id,
    title,
    body: html`${ruleWords(check)}<p>${more.sentence}</p>
${stepsTable('Steps; uncertainties are standard ones (k = 1)', check.steps, report)}${
  check.conclusions.length > 0 && stepsTable('Of all steps together', check.conclusions, report)
}${stepsPlot(`${title}: deviation of each step`, check.steps)}${more.after}${notes(said)}${flagNotes(check.flags)}`,
  };
}

function ruleWords({ rule, decision, outcome }: LinearityPart<LinearityRule>): Markup {
  if (rule === null)
    return html`<p>No rule was chosen: there are figures and no verdicts.</p>
`;
  const { title, edition, clause, source } = rule;
  return html`<p><strong>${title}</strong>, ${edition}, ${clause}. ${
    decision === 'simple-acceptance'
      ? 'The value alone decides (simple acceptance, as chosen).'
      : 'A verdict is inconclusive where the limit lies within the expanded uncertainty, k = 2.'
  } ${outcome === null ? 'The rule has no limit here, so there is no verdict.' : html`Outcome: ${verdictMark(outcome)}`}</p>
<p class="soft">Source of the figures: ${source}</p>
`;
}

const definitions: Readonly<Record<TimeBaseCheck['definition']['kind'], string>> = {
  'end-points': 'through the first and the last of them',
  'least-squares': 'by least squares through all of them',
  anchors: 'through two of them that are set to their places',
};

const rangeFrom: Readonly<Record<NonNullable<TimeBaseCheck['rangeFrom']>, string>> = {
  stated: 'as stated',
  anchors: 'as the two that were set fix it',
  span: 'the span of the reflectors, since none is stated: deviations come out larger for it, never smaller',
};

function timeBaseWords(check: TimeBaseCheck) {
  const { definition, line, rangeUs, rangeFrom: from, doubts, places } = check;
  const range =
    rangeUs === null || from === null
      ? 'No full range is known.'
      : `Full range ${formatNumber(rangeUs, 3)} µs, ${rangeFrom[from]}.`;
  const straight =
    line === null
      ? ''
      : ` The line: time = ${formatNumber(line.interceptUs, 4)} µs + ${formatNumber(line.slopeUs, 5)} µs · ${places === 'numbers' ? 'number' : 'distance in mm'}.`;
  return {
    sentence: withMinus(
      `${places === 'numbers' ? 'Equally spaced echoes' : 'Reflectors at known distances'}, each held against a straight line ${definitions[definition.kind]}; deviation in % of the full range. ${range}${straight}`,
    ),
    after: notes(doubts.map(({ flag, sentence }) => html`<strong>${flag}</strong>: ${sentence}`)),
  };
}

const orders = {
  'step-table': 'as the step table has it',
  'time-taken': 'of the time taken',
  'as-given': 'as they were given',
} as const;

function formWords(check: ScreenHeightCheck) {
  const sentence =
    check.form === 'two-echo'
      ? 'Two echoes in a fixed ratio, stepped together through the screen: the smaller is held against its share of the larger.'
      : `One echo, stepped by the gain: its height is held against what the step leads one to expect. Captures in the order ${orders[check.order]}.`;
  return { sentence, after: null };
}

function gainWords({ order, points, qualified }: GainCheck) {
  const total = points.some(({ totalErrorDb }) => totalErrorDb !== null);
  return {
    sentence: `One echo at known settings of the gain: whether so many dB of it are so many dB of height. Captures in the order ${orders[order]}.`,
    after: html`${
      total &&
      table(
        'Settings of the gain, and what their errors add up to (k = 1)',
        [
          figure('Setting (dB)'),
          figure('Height (% FSH)'),
          figure('Error of the step (dB)'),
          figure('Total error (dB)'),
          name('Capture'),
        ],
        points.map(({ levelDb, percent, stepErrorDb, totalErrorDb, captureId }) => [
          formatNumber(levelDb, 1),
          formatQuantity(percent, 1),
          stepErrorDb === null ? null : formatQuantity(stepErrorDb, 2),
          totalErrorDb === null ? null : formatQuantity(totalErrorDb, 2),
          captureId,
        ]),
      )
    }${
      qualified !== null &&
      html`<p>Qualified range: ${formatNumber(qualified.fromDb, 1)} to ${formatNumber(qualified.toDb, 1)} dB, over which the total error stays within ${formatQuantity(qualified.totalDb, 2)} dB.</p>
`
    }`,
  };
}
