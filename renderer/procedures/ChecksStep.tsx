import { type ReactNode, useId, useState } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { DriftCheck, DriftedReflector, DriftResult } from '../../core/check/drift.ts';
import { flagTexts } from '../../core/flag.ts';
import {
  bareFigure,
  type Figure as FigureOf,
  figures,
  figureWithUncertainty,
  figureWords,
  uncertaintyOf,
} from '../../core/origin/figure.ts';
import { verdictWords } from '../../core/origin/verdict-words.ts';
import type { DriftFigure, FigureAsked } from '../../core/origin.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Figure } from '../parts/Figure.tsx';
import { Icon, type IconName } from '../parts/Icon.tsx';
import { DoubtNotes } from './DoubtNote.tsx';
import own from './DriftSteps.module.css';
import type { DriftStepsProps } from './DriftSteps.tsx';
import styles from './Step.module.css';
import { Step } from './Step.tsx';

/** The checks one by one in order of time, with what follows from each. */
export function ChecksStep(props: DriftStepsProps) {
  const { result } = props;
  if (result === null || result.checks.length === 0) {
    return (
      <Step title="Verdicts and what follows" state="needs" summary="Needs the checks.">
        {null}
      </Step>
    );
  }
  const failing = result.checks.filter((check) => check.verdict === 'fail').length;
  const open = result.checks.filter((check) => check.verdict === 'inconclusive').length;
  const summary =
    result.rule === null
      ? 'No rule was chosen: there are no verdicts.'
      : failing === 0 && open === 0
        ? 'Every check passes.'
        : [failing > 0 ? `${failing} failing` : '', open > 0 ? `${open} inconclusive` : ''].filter(Boolean).join(', ');
  return (
    <Step
      title="Verdicts and what follows"
      state={failing > 0 ? 'wrong' : open > 0 ? 'doubt' : result.rule === null ? 'optional' : 'found'}
      word={failing > 0 ? 'failing' : open > 0 ? 'not decided' : result.rule === null ? 'no rule' : 'passing'}
      summary={summary}
    >
      {result.firstFailing !== null && <Reexamine {...props} result={result} firstFailing={result.firstFailing} />}
      <ol className={own.checks} aria-label="Checks in order of time">
        {result.checks.map((check) => (
          <Check key={check.captureId} {...props} check={check} />
        ))}
      </ol>
    </Step>
  );
}

/** What the first failing check puts in doubt, in the words of the rule. */
function Reexamine({
  result,
  firstFailing,
}: DriftStepsProps & { readonly result: DriftResult; readonly firstFailing: CaptureId }) {
  const check = result.checks.find(({ captureId }) => captureId === firstFailing);
  return (
    <DoubtNotes
      label="What must be done"
      doubts={[
        {
          sentence: `First failing: ${fileOf(firstFailing)}${check?.takenAt ? ` (${clock(check.takenAt)})` : ''}`,
          advice: check?.consequences.join(' ') ?? null,
        },
      ]}
    />
  );
}

const verdictIcons: Readonly<Record<NonNullable<DriftCheck['verdict']>, IconName>> = {
  pass: 'check',
  fail: 'cross',
  inconclusive: 'doubt',
};

function clock(takenAt: string): string {
  return takenAt.replace('T', ' ').replace(/:00(?=Z|[+-]|$)/, '');
}

function Check({ check, asked, onAsk, onSelect, style }: DriftStepsProps & { readonly check: DriftCheck }) {
  const { verdict } = check;
  // Until a person decides: a check that comes to fail under another rule unfolds.
  const [decided, setOpen] = useState<boolean | null>(null);
  const isOpen = decided ?? verdict !== 'pass';
  const id = useId();
  const ask = (figure: DriftFigure, distanceMm: number | null, name: string, text: string) => {
    const own: FigureAsked = { kind: 'drift', captureId: check.captureId, distanceMm, figure };
    const isAsked =
      asked?.kind === 'drift' &&
      asked.captureId === check.captureId &&
      asked.figure === figure &&
      asked.distanceMm === distanceMm;
    return <Figure name={name} text={text} asked={own} onAsk={onAsk} isAsked={isAsked} />;
  };
  const written = (figure: FigureOf | null) => figureWithUncertainty(figure, style);
  return (
    <li className={[own.check, verdict === null ? '' : own[verdict]].join(' ')}>
      <div className={own.head}>
        <button
          type="button"
          className={own.unfold}
          aria-expanded={isOpen}
          aria-controls={id}
          onClick={() => setOpen(!isOpen)}
        >
          <Icon name={isOpen ? 'chevron-down' : 'chevron-right'} />
          <span className={own.name}>{fileOf(check.captureId)}</span>
          <span className={own.taken}>{check.takenAt === null ? 'time not stated' : clock(check.takenAt)}</span>
        </button>
        {verdict !== null && (
          <span className={own.verdict}>
            <Icon name={verdictIcons[verdict]} />
            {ask('verdict', null, 'Verdict', verdictWords[verdict])}
          </span>
        )}
      </div>
      <div id={id} hidden={!isOpen} className={own.body}>
        <div className={styles.scroll}>
          <table className={styles.table}>
            <thead>
              <tr>
                <th>Reflector ({unitSign('length', style)})</th>
                <th className={styles.number}>Distance error ({unitSign('length', style)})</th>
                <th className={styles.number}>Amplitude change (dB)</th>
              </tr>
            </thead>
            <tbody>
              {check.reflectors.map((reflector) => (
                <ReflectorRow key={reflector.distanceMm} reflector={reflector} ask={ask} style={style} />
              ))}
            </tbody>
          </table>
        </div>
        <dl className={styles.figures}>
          <dt>Zero offset changed by</dt>
          <dd>
            {ask(
              'zero-offset-change',
              null,
              'Zero offset change',
              written(check.zeroOffsetChangeUs && figures.timeUs(check.zeroOffsetChangeUs, style)),
            )}
          </dd>
          <dt>Velocity changed by</dt>
          <dd>
            {ask(
              'velocity-change',
              null,
              'Velocity change',
              written(check.velocityChangePercent && figures.changePercent(check.velocityChangePercent, style)),
            )}
          </dd>
        </dl>
        {check.causeSentence !== null && <p>{check.causeSentence}</p>}
        <DoubtNotes
          label={`Doubts about ${check.captureId}`}
          doubts={check.flags.filter((flag) => flag !== 'drift').map((flag) => flagTexts[flag])}
        />
        <Demands title="What the rule demands" sentences={check.consequences} />
        <Demands title="The limits are kept; the rule asks all the same" sentences={check.remarks} />
        <div>
          <Button small onPress={() => onSelect(check.captureId)}>
            Show the capture
          </Button>
        </div>
      </div>
    </li>
  );
}

function Demands({ title, sentences }: { readonly title: string; readonly sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <div>
      <p className={styles.note}>{title}</p>
      <ul className={own.do}>
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </div>
  );
}

/** Checks have one trace as a rule: its file names it. */
function fileOf(captureId: CaptureId): string {
  return captureId.split('#')[0] ?? captureId;
}

function ReflectorRow({
  reflector,
  ask,
  style,
}: {
  readonly reflector: DriftedReflector;
  readonly ask: (figure: DriftFigure, distanceMm: number | null, name: string, text: string) => ReactNode;
  readonly style: FigureStyle;
}) {
  const { distanceMm, distanceErrorMm, amplitudeChangeDb } = reflector;
  const at = figureWords(figures.statedMm(distanceMm, style), style);
  const bare = (figure: FigureOf | null) => {
    const u = figure === null ? null : uncertaintyOf(figure);
    return u === null ? bareFigure(figure, style) : `${bareFigure(figure, style)} ± ${bareFigure(u, style)}`;
  };
  return (
    <tr>
      <td>{bareFigure(figures.statedMm(distanceMm, style), style)}</td>
      <td className={styles.number}>
        {ask(
          'distance-error',
          distanceMm,
          `Distance error at ${at}`,
          bare(distanceErrorMm && figures.lengthMm(distanceErrorMm, style)),
        )}
      </td>
      <td className={styles.number}>
        {ask(
          'amplitude-change',
          distanceMm,
          `Amplitude change at ${at}`,
          bare(amplitudeChangeDb && figures.levelDb(amplitudeChangeDb, style)),
        )}
      </td>
    </tr>
  );
}
