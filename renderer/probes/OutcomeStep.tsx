import { figureWithUncertainty } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { AgainstStated } from '../../core/probe/against-stated.ts';
import { probeFigures } from '../../core/probe/figures.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { decimalsFor, formatNumber } from '../../core/units/format-quantity.ts';
import { isSame } from '../audit/asked.ts';
import own from '../audit/Check.module.css';
import { inWords } from '../audit/figure-words.ts';
import { VerdictSign } from '../audit/VerdictSign.tsx';
import { Figure } from '../parts/Figure.tsx';
import { toldOnce } from '../parts/told-once.ts';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import styles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import type { OfProbes } from './ProbesSteps.tsx';
import { statedWords } from './StatedStep.tsx';

/** What came of the probes, each against what is stated of it. */
export function OutcomeStep({ decided, decision, result, isEvaluating, onAsk, asked, style }: OfProbes) {
  if (decision === null || result === null || decided.captures.length === 0)
    return (
      <Step
        title="Characteristics"
        state={decision !== null && isEvaluating ? 'working' : 'needs'}
        summary="Needs captures and a gate."
      >
        {null}
      </Step>
    );
  const { probes, captures, problems, warnings, remarks } = result;
  const measured = captures.filter(({ hindrance }) => hindrance === null).length;
  const failed = probes.filter(({ outcome }) => outcome === 'fail').length;
  const isWrong = measured === 0;
  return (
    <Step
      title="Characteristics"
      state={isWrong ? 'wrong' : problems.length > 0 || failed > 0 ? 'doubt' : 'found'}
      summary={
        isWrong
          ? 'Nothing could be measured.'
          : `${probes.length} ${probes.length === 1 ? 'probe' : 'probes'} from ${measured} of ${captures.length} captures; the table stands below the trace.`
      }
    >
      <DoubtNotes
        label="What could not be measured"
        doubts={toldOnce([...problems, ...warnings]).map((sentence) => ({ sentence, advice: null }))}
      />
      {probes.slice(0, mostListed).map((probe) =>
        probe.stated.length === 0 ? null : (
          <section key={probe.probe} aria-label={`${probe.probe} against what is stated`}>
            <div className={own.overall}>
              <span>{probe.probe}</span>
              {probe.outcome === null ? (
                <span className={own.soft}>no rule</span>
              ) : (
                <VerdictSign outcome={probe.outcome} />
              )}
            </div>
            <ul className={own.results}>
              {probe.stated.map((one) => (
                <Stated key={one.figure} probe={probe.probe} one={one} onAsk={onAsk} asked={asked} style={style} />
              ))}
            </ul>
          </section>
        ),
      )}
      {probes.length > mostListed && (
        <p className={styles.note}>
          {probes.length - mostListed} more probes against their stated figures stand in Verdicts and in the table.
        </p>
      )}
      {remarks.map((sentence) => (
        <p key={sentence} className={styles.note}>
          {sentence}
        </p>
      ))}
    </Step>
  );
}

const mostListed = 12;

function Stated({
  probe,
  one,
  onAsk,
  asked,
  style,
}: {
  readonly probe: string;
  readonly one: AgainstStated;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
  readonly style: FigureStyle;
}) {
  const { figure, stated, deviation, unit, verdict } = one;
  const { title } = probeFigures[figure];
  const figureAsked: FigureAsked = { kind: 'probe', of: 'stated', probe, figure };
  return (
    <li className={own.result}>
      <div className={own.line}>
        <span>{title}</span>
        {deviation === null ? (
          <span className={own.soft}>not measurable</span>
        ) : (
          <Figure
            name={`${title} of ${probe}, from the stated one`}
            text={inWords(
              figureWithUncertainty(
                { ...deviation, decimals: decimalsFor(deviation.standardUncertainty, 1), unit },
                style,
              ),
            )}
            asked={figureAsked}
            onAsk={onAsk}
            isAsked={isSame(asked, figureAsked)}
          />
        )}
        <span>{verdict === null ? '' : <VerdictSign outcome={verdict.outcome} />}</span>
      </div>
      <p className={own.soft}>
        stated {inWords(statedWords(figure, stated, style))}
        {verdict === null
          ? '; the rule does not limit it'
          : `, limit ${inWords(`${formatNumber(verdict.limit, Number.isInteger(verdict.limit) ? 0 : 1, style)} ${unit}`)}`}
      </p>
    </li>
  );
}
