import { coverageFactor, type Verdict, worstOf } from '../check/verdict.ts';
import { formulas } from '../formula.ts';
import type { Origin, OriginInput } from '../origin.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import { origin } from './context.ts';
import { type AtReflector, type Checked, here, limitInputs, limitsShown } from './drift-context.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';
import { verdictWords } from './verdict-words.ts';

function verdictFigure(verdict: Verdict, style: FigureStyle): Figure | null {
  if (verdict.measured === null) return null;
  return verdict.unit === 'mm' ? figures.lengthMm(verdict.measured, style) : figures.levelDb(verdict.measured, style);
}

const verdictName = (verdict: Verdict) => (verdict.unit === 'mm' ? 'distance error' : 'amplitude change');

/** How a deviation, widened by its expanded uncertainty, lies to its limits; each bound worked out from the numbers shown. */
function decisionInNumbers(verdict: Verdict, at: AtReflector): string {
  const { style, reflector } = at;
  const unit = verdict.unit === 'mm' ? 'mm' : 'dB';
  const limits = unit === 'mm' ? reflector.distanceLimitsMm : reflector.amplitudeLimitsDb;
  const deviation = verdictFigure(verdict, style);
  const allowed = limits === null ? '' : `; allowed ${limitsShown(limits, unit, style)}`;
  const outcome = `: ${verdictWords[verdict.outcome]}`;
  if (deviation === null) return `${verdictName(verdict)} not measured${allowed}${outcome}`;
  const u = deviation.standardUncertainty;
  if (verdict.decision === 'simple-acceptance' || u === null)
    return `${verdictName(verdict)} ${figureWords(deviation, style)}${allowed}${outcome}`;
  const bound = (side: 1 | -1) =>
    withNumbers(
      [deviation, { value: coverageFactor, decimals: 0, unit: '' }, { ...deviation, value: u }],
      (x, k, s) => x + side * k * s,
      (x, k, s) => `${x} ${side === 1 ? '+' : '−'} ${k} · ${s}`,
      { ...deviation, value: deviation.value + side * coverageFactor * u },
      style,
    );
  return `${bound(-1)}; ${bound(1)}${allowed}${outcome}`;
}

function verdictSource({ result }: Checked): string {
  const { rule } = result;
  if (rule === null) return 'No rule was chosen: there is no verdict.';
  return `${rule.title}, ${rule.edition}, ${rule.clause}. ${rule.source}`;
}

function verdictText({ result }: Checked): string {
  return formulas[result.decision === 'simple-acceptance' ? 'verdict-simple' : 'verdict'].text;
}

export function verdictOfReflector(at: AtReflector): Origin {
  const { reflector, style } = at;
  return origin({
    title: 'Verdict',
    value:
      reflector.verdicts.length === 0
        ? 'none'
        : verdictWords[worstOf(reflector.verdicts.map((verdict) => verdict.outcome))],
    formula:
      reflector.verdicts.length === 0
        ? null
        : {
            text: verdictText(at),
            withNumbers: reflector.verdicts.map((verdict) => decisionInNumbers(verdict, at)).join('\n'),
          },
    inputs: reflector.verdicts.flatMap((verdict): OriginInput[] => [
      {
        name: verdictName(verdict),
        value: figureWithUncertainty(verdictFigure(verdict, style), style),
        asked: here(at, verdict.unit === 'mm' ? 'distance-error' : 'amplitude-change'),
      },
      ...limitInputs(at, verdict.unit === 'mm' ? 'mm' : 'dB'),
    ]),
    source: verdictSource(at),
  });
}

export function verdictOfCheck(checked: Checked): Origin {
  const { check, asked, style } = checked;
  const judged = check.reflectors.filter(({ verdicts }) => verdicts.length > 0);
  const outcomes = judged.map(({ verdicts }) => verdictWords[worstOf(verdicts.map((verdict) => verdict.outcome))]);
  return origin({
    title: 'Verdict of the check',
    value: check.verdict === null ? 'none' : verdictWords[check.verdict],
    formula:
      check.verdict === null
        ? null
        : {
            text: formulas['verdict-of-check'].text,
            withNumbers: `the worst of ${outcomes.join(', ')}: ${verdictWords[check.verdict]}`,
          },
    inputs: judged.map(
      ({ distanceMm }, i): OriginInput => ({
        name: `reflector at ${figureWords(figures.statedMm(distanceMm, style), style)}`,
        value: outcomes[i],
        asked: { ...asked, distanceMm, figure: 'verdict' },
      }),
    ),
    source: verdictSource(checked),
  });
}
