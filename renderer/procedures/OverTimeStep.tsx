import { useState } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import { fewestForLimits } from '../../core/check/control-chart.ts';
import type { ChartSeries, DriftGroup, DriftOverTime } from '../../core/check/drift-over-time.ts';
import {
  intervalWords,
  jumpSentence,
  limitsSentence,
  notYetConfirmedSentence,
  reexaminationSentence,
  seriesName,
  takenWithWords,
  trendSentence,
} from '../../core/check/over-time-words.ts';
import type { Reexamination } from '../../core/check/reexamine.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Choice } from '../parts/Choice.tsx';
import { toldOnce } from '../parts/told-once.ts';
import own from './ControlChart.module.css';
import { ControlChart } from './ControlChart.tsx';
import { DoubtNotes } from './DoubtNote.tsx';
import styles from './Step.module.css';
import { Step, type StepState } from './Step.tsx';

interface OverTimeProps {
  readonly overTime: DriftOverTime | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly onSelect: (captureId: CaptureId) => void;
  readonly style: FigureStyle;
}

/** How the checks of each instrument and probe go over time: control chart, trend, intervals, and what must be looked at again. */
export function OverTimeStep(props: OverTimeProps) {
  const { overTime } = props;
  if (overTime === null || overTime.groups.length === 0)
    return (
      <Step title="Over time" state="needs" summary="Needs the checks.">
        {null}
      </Step>
    );
  const { groups, warnings } = overTime;
  const again = groups.reduce((sum, { reexaminations }) => sum + reexaminations.length, 0);
  const odd = groups.flatMap(({ series }) => series).filter(isOdd).length;
  const state: StepState = again > 0 ? 'wrong' : odd > 0 || warnings.length > 0 ? 'doubt' : 'found';
  const checks = groups.reduce((sum, group) => sum + group.checks.length, 0);
  return (
    <Step
      title="Over time"
      state={state}
      word={again > 0 ? 'to be looked at again' : odd > 0 ? 'not steady' : null}
      summary={`${checks} ${checks === 1 ? 'check' : 'checks'} of ${groups.length === 1 ? 'one instrument and probe' : `${groups.length} instruments and probes`}${odd === 0 ? '' : `; ${odd} ${odd === 1 ? 'figure has' : 'figures have'} a trend, a jump or points out of control`}.`}
    >
      <DoubtNotes
        label="What was taken for granted over time"
        doubts={toldOnce(warnings).map((sentence) => ({ sentence, advice: null }))}
      />
      {groups.map((group) => (
        <Group key={takenWithWords(group)} {...props} group={group} isOne={groups.length === 1} />
      ))}
    </Step>
  );
}

function isOdd({ points, trend }: ChartSeries): boolean {
  return trend?.significant === true || points.some(({ outside, jump }) => outside || jump);
}

const nameOf = (captureId: CaptureId): string => captureId.replace(/#[^#]*$/, '');

function Group({
  group,
  isOne,
  onAsk,
  onSelect,
  style,
}: OverTimeProps & { readonly group: DriftGroup; readonly isOne: boolean }) {
  const { series, longestHoursBetweenChecks, lastPassing, reexaminations, unplaced } = group;
  const [chosen, setChosen] = useState<string | null>(null);
  const shown = series.find((one) => idOf(one) === chosen) ?? series.find(isOdd) ?? series[0];
  const notConfirmed = notYetConfirmedSentence(group);
  return (
    <>
      <p className={isOne ? styles.note : styles.sub}>{takenWithWords(group)}</p>
      {shown !== undefined && (
        <>
          <Choice
            label="Figure over time"
            options={series.map((one) => ({
              id: idOf(one),
              label: titleOf(one, style),
              description: isOdd(one) ? 'a trend, a jump, or points out of control' : null,
            }))}
            chosen={idOf(shown)}
            onChoose={setChosen}
          />
          <ControlChart series={shown} onAsk={onAsk} style={style} />
          <p className={own.legend}>
            Disc: as expected; cross: out of control; triangle: a jump; ring: not counted. The line through them is the
            trend, dotted where chance alone may make it.
          </p>
          {[limitsSentence(shown, style), trendSentence(shown, style), jumpSentence(shown, nameOf, style)]
            .filter((sentence) => sentence !== null)
            .map((sentence) => (
              <p key={sentence}>{withMinus(sentence)}</p>
            ))}
          {shown.chart.limits === null && shown.points.length > 0 && shown.points.length < fewestForLimits && (
            <p className={styles.note}>
              {fewestForLimits - shown.points.length} more{' '}
              {fewestForLimits - shown.points.length === 1 ? 'check gives' : 'checks give'} control limits.
            </p>
          )}
          {shown.missing.length > 0 && (
            <p className={styles.note}>No figure here: {shown.missing.map(nameOf).join(', ')}.</p>
          )}
        </>
      )}
      <dl className={styles.figures}>
        <dt>Longest interval</dt>
        <dd>
          {longestHoursBetweenChecks === null ? 'one check alone' : intervalWords(longestHoursBetweenChecks, style)}
        </dd>
        <dt>Last passing</dt>
        <dd>{lastPassing === null ? 'none' : nameOf(lastPassing)}</dd>
      </dl>
      {unplaced.length > 0 && (
        <p className={styles.note}>On no chart, without a time: {unplaced.map(nameOf).join(', ')}.</p>
      )}
      {reexaminations.map((found) => (
        <Again key={found.checks.join(' ')} found={found} onSelect={onSelect} />
      ))}
      {notConfirmed !== null && <p className={styles.note}>{notConfirmed}</p>}
    </>
  );
}

function idOf({ figure, distanceMm }: ChartSeries): string {
  return `${figure} ${distanceMm}`;
}

function titleOf(series: ChartSeries, style: FigureStyle): string {
  const name = seriesName(series);
  return `${name.charAt(0).toUpperCase()}${name.slice(1)} at ${figureWords(figures.statedMm(series.distanceMm, style), style)}`;
}

/** So many captures are named at once. */
const mostNamed = 30;

function Again({
  found,
  onSelect,
}: {
  readonly found: Reexamination;
  readonly onSelect: (captureId: CaptureId) => void;
}) {
  const { readings } = found;
  return (
    <>
      <DoubtNotes
        label="What must be looked at again"
        doubts={[{ sentence: reexaminationSentence(found, nameOf), advice: null }]}
      />
      {readings.length > 0 && (
        <ul className={own.list} aria-label="Captures to be looked at again">
          {readings.slice(0, mostNamed).map(({ captureId, takenAt, placing }) => (
            <li key={captureId}>
              <button type="button" onClick={() => onSelect(captureId)}>
                {nameOf(captureId)}
              </button>
              {takenAt !== null && `, ${takenAt.replace('T', ' ').replace(/:00(?=Z|[+-]|$)/, '')}`}
              {placing === 'cannot-be-placed' && ', cannot be placed in time'}
            </li>
          ))}
          {readings.length > mostNamed && <li>{readings.length - mostNamed} more</li>}
        </ul>
      )}
    </>
  );
}

function withMinus(text: string): string {
  return text.replace(/(^|[\s(])-(?=\d)/g, '$1−');
}
