import { Fragment } from 'react';
import { type Flag, flagTexts } from '../../core/flag.ts';
import { bareFigure, figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { unitSign } from '../../core/units/figure-style.ts';
import { Choice } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { Icon } from '../parts/Icon.tsx';
import { toldOnce } from '../parts/told-once.ts';
import own from './CalibrationSteps.module.css';
import type { CalibrationStepsProps } from './CalibrationSteps.tsx';
import { type EchoRow, echoRows, knownDistances, retaken } from './calibration-decision.ts';
import { DoubtNotes } from './DoubtNote.tsx';
import { flagName } from './reading-rows.ts';
import styles from './Step.module.css';
import { Step, type StepState } from './Step.tsx';

/** The echoes that were found, each with the reflector it is taken for, which a person can change. */
export function EchoesStep(props: CalibrationStepsProps) {
  const { result, isFitting, decision } = props;
  const rows = result === null ? [] : echoRows(result);
  const matched = rows.filter((row) => row.distanceMm !== null).length;
  const left = rows.length - matched;
  const state: StepState =
    result === null ? (isFitting ? 'working' : 'needs') : result.problems.length > 0 ? 'wrong' : 'found';
  const summary =
    result === null
      ? 'Needs captures and known reflectors.'
      : result.problems.length > 0
        ? 'The reflectors were not all found.'
        : `${matched} taken for reflectors, ${left === 0 ? 'none left over' : `${left} left over`}.`;
  return (
    <Step title="Echoes and reflectors" state={state} summary={summary}>
      {result !== null && (
        <DoubtNotes
          label="What keeps the reflectors from being found"
          doubts={toldOnce(result.problems).map((sentence) => ({ sentence, advice: null }))}
        />
      )}
      {rows.length > 0 && <EchoTable {...props} rows={rows} known={knownDistances(decision)} />}
    </Step>
  );
}

const noReflector = 'none';

function EchoTable({
  rows,
  known,
  result,
  decision,
  onDecision,
  onAsk,
  asked,
  onShowEcho,
  style,
}: CalibrationStepsProps & { readonly rows: readonly EchoRow[]; readonly known: readonly number[] }) {
  const options = [
    { id: noReflector, label: 'no reflector' },
    ...known.map((d) => ({ id: String(d), label: figureWords(figures.statedMm(d, style), style) })),
  ];
  const several = new Set(rows.map((row) => row.captureId)).size > 1;
  return (
    <div className={styles.scroll}>
      <table className={styles.table}>
        <thead>
          <tr>
            <th className={styles.number}>Time (µs)</th>
            <th className={styles.number}>% FSH</th>
            <th>Taken for</th>
            <th className={styles.number}>Residual ({unitSign('length', style)})</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => {
            const time = bareFigure(figures.echoTimeUs(row.timeUs, style), style);
            const amplitude =
              row.amplitudePercent === null ? null : figures.amplitudePercent(row.amplitudePercent, style);
            const notes = [row.name, several ? row.captureId : null].filter((note) => note !== null);
            const isNoted = notes.length > 0 || row.flags.length > 0;
            return (
              <Fragment key={`${row.captureId} ${row.timeUs}`}>
                <tr className={isNoted ? own.noted : ''}>
                  <td className={styles.number}>
                    {row.distanceMm === null ? (
                      <button
                        type="button"
                        className={own.show}
                        aria-label={`Show the echo at ${time} µs on the trace`}
                        onClick={() => onShowEcho(row.captureId, row.timeUs)}
                      >
                        {time}
                      </button>
                    ) : (
                      <PointFigure
                        name="Time"
                        text={time}
                        distanceMm={row.distanceMm}
                        figure="time"
                        onAsk={onAsk}
                        asked={asked}
                      />
                    )}
                  </td>
                  <td className={styles.number}>
                    {row.distanceMm === null ? (
                      bareFigure(amplitude, style)
                    ) : (
                      <PointFigure
                        name="Amplitude"
                        text={bareFigure(amplitude, style)}
                        distanceMm={row.distanceMm}
                        figure="amplitude"
                        onAsk={onAsk}
                        asked={asked}
                      />
                    )}
                  </td>
                  <td className={own.taken}>
                    <Choice
                      label={`Reflector of the echo at ${time} µs`}
                      hideLabel
                      options={options}
                      chosen={row.distanceMm === null ? noReflector : String(row.distanceMm)}
                      onChoose={(id) =>
                        onDecision(retaken(decision, rows, row, id === noReflector ? null : Number(id)))
                      }
                    />
                  </td>
                  <td className={styles.number}>
                    {row.distanceMm !== null && row.residualMm !== null && (
                      <PointFigure
                        name="Residual"
                        text={bareFigure(figures.residualMm(row.residualMm, style), style)}
                        distanceMm={row.distanceMm}
                        figure="residual"
                        onAsk={onAsk}
                        asked={asked}
                      />
                    )}
                  </td>
                </tr>
                {isNoted && (
                  <tr>
                    <td colSpan={4} className={own.notes}>
                      {notes.join(' · ')}
                      <EchoDoubts flags={row.flags} told={result?.calibration?.flags ?? []} time={time} />
                    </td>
                  </tr>
                )}
              </Fragment>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

/** What the fit's own doubts tell with numbers stands here by its name alone. */
function EchoDoubts({
  flags,
  told,
  time,
}: {
  readonly flags: readonly Flag[];
  readonly told: readonly Flag[];
  readonly time: string;
}) {
  const named = flags.filter((flag) => told.includes(flag));
  return (
    <>
      {named.length > 0 && (
        <span className={own.named}>
          <Icon name="doubt" /> {named.map(flagName).join(', ')}
        </span>
      )}
      <DoubtNotes
        label={`Doubts about the echo at ${time} µs`}
        doubts={flags.filter((flag) => !told.includes(flag)).map((flag) => flagTexts[flag])}
      />
    </>
  );
}

function PointFigure({
  name,
  text,
  distanceMm,
  figure,
  onAsk,
  asked,
}: {
  readonly name: string;
  readonly text: string;
  readonly distanceMm: number;
  readonly figure: 'time' | 'residual' | 'amplitude';
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
}) {
  const isAsked = asked?.kind === 'calibration-point' && asked.distanceMm === distanceMm && asked.figure === figure;
  return (
    <Figure
      name={name}
      text={text}
      asked={{ kind: 'calibration-point', distanceMm, figure }}
      onAsk={onAsk}
      isAsked={isAsked}
    />
  );
}
