import { type Verdict, worstOf } from '../check/verdict.ts';
import { formulas } from '../formula.ts';
import type { Origin, OriginInput } from '../origin.ts';
import { origin } from './context.ts';
import { decisionInNumbers, verdictFigure } from './decision-in-numbers.ts';
import { type AtReflector, type Checked, here, limitInputs } from './drift-context.ts';
import { figures, figureWithUncertainty, figureWords } from './figure.ts';
import { verdictWords } from './verdict-words.ts';

const verdictName = (verdict: Verdict) => (verdict.unit === 'mm' ? 'distance error' : 'amplitude change');

function decision(verdict: Verdict, { style, reflector }: AtReflector) {
  const limits = verdict.unit === 'mm' ? reflector.distanceLimitsMm : reflector.amplitudeLimitsDb;
  return decisionInNumbers(verdictName(verdict), verdict, limits, style);
}

function verdictSource({ result }: Checked): string {
  const { rule } = result;
  if (rule === null) return 'No rule was chosen: there is no verdict.';
  return `${rule.title}, ${rule.edition}, ${rule.clause}. ${rule.source}`;
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
            text: decision(reflector.verdicts[0], at).text,
            withNumbers: reflector.verdicts.map((verdict) => decision(verdict, at).withNumbers).join('\n'),
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
