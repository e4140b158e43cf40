import type { AssessedStep } from '../../../check/assessed-step.ts';
import { formatQuantity } from '../../../units/format-quantity.ts';
import type { Quantity } from '../../../units/quantity.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import { figure, flagNames, name, notes, table, verdictMark, words } from '../parts.ts';
import { signed } from '../plots/frame.ts';
import type { Report } from '../report-input.ts';

const least: Readonly<Record<AssessedStep['readUnit'], number>> = { '%': 1, dB: 2, mm: 2, µs: 3 };

/** The steps of a check as they were counted: expected, read, how far apart, what is allowed, and the verdict of each. */
export function stepsTable(caption: string, steps: readonly AssessedStep[], { style }: Report): Markup {
  const quantity = (known: Quantity | null, unit: AssessedStep['readUnit']): Shown =>
    known === null ? '–' : `${formatQuantity(known, least[unit], style)} ${unit}`;
  const side = (value: number, unit: AssessedStep['unit']) => `${signed(value, least[unit])} ${unit}`;
  const captures = new Set(steps.map(({ captureId }) => captureId));
  const [only] = captures.size === 1 ? [...captures] : [];
  return html`${table(
    only == null || steps.length === 1 ? caption : `${caption}; all read from ${only}`,
    [
      figure('No.'),
      words('Step'),
      figure('Expected'),
      figure('Read'),
      figure('Deviation'),
      figure('Allowed'),
      name('Capture'),
      words('Doubts'),
      words('Verdict'),
    ],
    steps.map((step, i) => [
      String(i + 1),
      step.name,
      quantity(step.expected, step.readUnit),
      quantity(step.read, step.readUnit),
      quantity(step.deviation, step.unit),
      step.limits === null ? null : allowed(step.limits.lower, step.limits.upper, (value) => side(value, step.unit)),
      only == null || steps.length === 1 ? step.captureId : null,
      flagNames(step.flags),
      step.verdict === null ? null : verdictMark(step.verdict.outcome),
    ]),
  )}${remarks(steps)}`;
}

/** What must be said of steps beside their figures; steps of which the same is said stand together. */
function remarks(steps: readonly AssessedStep[]): Markup | null {
  const said = new Map<string, number[]>();
  steps.forEach(({ remark }, i) => {
    if (remark !== null) said.set(remark, [...(said.get(remark) ?? []), i + 1]);
  });
  return notes(
    [...said].map(
      ([remark, numbers]) =>
        html`<strong>${numbers.length === 1 ? 'Step' : 'Steps'} ${numbers.join(', ')}</strong>: ${remark}`,
    ),
  );
}

function allowed(lower: number, upper: number, side: (value: number) => string): Shown {
  if (!Number.isFinite(lower) && !Number.isFinite(upper)) return null;
  if (!Number.isFinite(lower)) return `at most ${side(upper)}`;
  if (!Number.isFinite(upper)) return `at least ${side(lower)}`;
  return html`${side(lower)} to ${side(upper)}`;
}
