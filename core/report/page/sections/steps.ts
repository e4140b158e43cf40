import type { AssessedStep } from '../../../check/assessed-step.ts';
import { formatQuantity } from '../../../units/format-quantity.ts';
import type { Quantity } from '../../../units/quantity.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import { figure, flagNames, name, table, verdictMark, words } from '../parts.ts';
import { signed } from '../plots/frame.ts';
import type { Report } from '../report-input.ts';

const least: Readonly<Record<AssessedStep['readUnit'], number>> = { '%': 1, dB: 2, mm: 2, µs: 3 };

/** The steps of a check as they were counted: expected, read, how far apart, what is allowed, and the verdict of each. */
export function stepsTable(caption: string, steps: readonly AssessedStep[], { style }: Report): Markup {
  const quantity = (known: Quantity | null, unit: AssessedStep['readUnit']): Shown =>
    known === null ? '–' : `${formatQuantity(known, least[unit], style).replace(/^-/, '−')} ${unit}`;
  const side = (value: number, unit: AssessedStep['unit']) => `${signed(value, least[unit])} ${unit}`;
  return table(
    caption,
    [
      figure('No.'),
      words('Step'),
      figure('Expected'),
      figure('Read'),
      figure('Deviation'),
      figure('Allowed'),
      name('Capture'),
      words('Doubts'),
      words('Remark'),
      words('Verdict'),
    ],
    steps.map((step, i) => [
      String(i + 1),
      step.name,
      quantity(step.expected, step.readUnit),
      quantity(step.read, step.readUnit),
      quantity(step.deviation, step.unit),
      step.limits === null ? null : allowed(step.limits.lower, step.limits.upper, (value) => side(value, step.unit)),
      step.captureId,
      flagNames(step.flags),
      step.remark,
      step.verdict === null ? null : verdictMark(step.verdict.outcome),
    ]),
  );
}

function allowed(lower: number, upper: number, side: (value: number) => string): Shown {
  if (!Number.isFinite(lower) && !Number.isFinite(upper)) return null;
  if (!Number.isFinite(lower)) return `at most ${side(upper)}`;
  if (!Number.isFinite(upper)) return `at least ${side(lower)}`;
  return html`${side(lower)} to ${side(upper)}`;
}
