import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { SeriesResult } from '../../core/steps/read.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Figure } from '../parts/Figure.tsx';
import { DoubtNotes } from './DoubtNote.tsx';
import type { ReadingsStepsProps } from './ReadingsSteps.tsx';
import styles from './Step.module.css';
import { Step } from './Step.tsx';

/** What is known of the peak of each gate over its series. */
export function SeriesStep({ evaluation, decision, onAsk, asked, style }: ReadingsStepsProps) {
  const series = evaluation?.readings?.series ?? [];
  if (decision.series === null || series.length === 0) return null;
  const doubts = series.flatMap(({ gate, doubts: own }) =>
    own.map((sentence) => ({ sentence: series.length > 1 ? `Gate ‘${gate}’: ${sentence}` : sentence, advice: null })),
  );
  return (
    <Step
      title="The series"
      state={doubts.length > 0 ? 'doubt' : 'found'}
      summary={doubts.length > 0 ? 'What is known of the peak, and what is doubtful about it.' : 'The peak was fitted.'}
    >
      {series.map((one) => (
        <SeriesFigures key={one.gate} series={one} onAsk={onAsk} asked={asked} style={style} />
      ))}
      <DoubtNotes label="Doubts about the series" doubts={doubts} />
    </Step>
  );
}

function SeriesFigures({
  series,
  onAsk,
  asked,
  style,
}: {
  readonly series: SeriesResult;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
  readonly style: FigureStyle;
}) {
  const { gate, peak, pathRangeMm } = series;
  const figure = (of: 'peak' | 'peak-position' | 'path-range', name: string, text: string) => (
    <Figure
      name={name}
      text={text}
      asked={{ kind: 'series', gate, figure: of }}
      onAsk={onAsk}
      isAsked={asked?.kind === 'series' && asked.gate === gate && asked.figure === of}
    />
  );
  if (peak === null) return null;
  const height = figureWords(figures.amplitudePercent(peak.amplitudePercent, style), style);
  const gain =
    peak.referenceGainDb === null ? '' : ` at ${figureWords(figures.levelDb(peak.referenceGainDb, style), style)}`;
  return (
    <dl className={styles.figures}>
      <dt>Gate</dt>
      <dd>{gate}</dd>
      <dt>{peak.method === 'parabola' ? 'Fitted peak' : 'Highest reading'}</dt>
      <dd>{figure('peak', 'Peak', `${peak.isLowerBound ? '≥ ' : ''}${height}${gain}`)}</dd>
      {peak.positionMm !== null && (
        <>
          <dt>Position</dt>
          <dd>
            {figure(
              'peak-position',
              'Position of the peak',
              figureWords(figures.lengthMm(peak.positionMm, style), style),
            )}
          </dd>
        </>
      )}
      {pathRangeMm !== null && (
        <>
          <dt>Range of paths</dt>
          <dd>
            {figure('path-range', 'Range of sound paths', figureWords(figures.lengthMm(pathRangeMm, style), style))}
          </dd>
        </>
      )}
    </dl>
  );
}
