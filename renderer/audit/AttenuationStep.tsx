import { useState } from 'react';
import { flagTexts } from '../../core/flag.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { Reflector } from '../../core/review/review.ts';
import { Button } from '../parts/Button.tsx';
import { Figure } from '../parts/Figure.tsx';
import { CapturePicker } from '../procedures/CapturePicker.tsx';
import { chosenInWords } from '../procedures/capture-choices.ts';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import styles from '../procedures/Step.module.css';
import { Step, type StepState } from '../procedures/Step.tsx';
import { WindowTable } from '../procedures/WindowTable.tsx';
import { isSame } from './asked.ts';
import own from './Check.module.css';
import { inWords } from './figure-words.ts';
import type { OfCurve } from './SensitivitySteps.tsx';
import { backWallOf } from './sensitivity-decision.ts';

/** What the material takes away: by the law that the curve follows, and by two echoes of one back wall. */
export function AttenuationStep(props: OfCurve) {
  const { result, sensitivity, asked, onAsk, written } = props;
  const { law = null, withoutLaw = null } = result?.curve ?? {};
  const measured = result?.attenuation ?? null;
  const ofLaw: FigureAsked = { kind: 'sensitivity', figure: 'attenuation' };
  const apparent: FigureAsked = { kind: 'sensitivity', figure: 'apparent-attenuation' };
  const [first, second] = [law === null ? null : written(ofLaw), measured === null ? null : written(apparent)];
  const doubts = measured?.doubts ?? [];
  const state: StepState = doubts.length > 0 ? 'doubt' : first !== null || second !== null ? 'found' : 'optional';
  const told = [
    first === null ? null : `${inWords(first)} by the curve’s law`,
    second === null ? null : `${inWords(second)} by two back-wall echoes`,
  ].filter((words) => words !== null);
  return (
    <Step
      title="Attenuation"
      state={state}
      summary={told.length === 0 ? 'By the law of the curve, or by two back-wall echoes.' : `${told.join('; ')}.`}
      isOpenAtFirst={sensitivity.attenuation !== null || law !== null}
    >
      {(first !== null || second !== null) && (
        <dl className={styles.figures}>
          {first !== null && (
            <>
              <dt>By the law</dt>
              <dd>
                <Figure
                  name="Attenuation by the law of the curve"
                  text={inWords(first)}
                  asked={ofLaw}
                  onAsk={onAsk}
                  isAsked={isSame(asked, ofLaw)}
                />
              </dd>
            </>
          )}
          {second !== null && (
            <>
              <dt>By two echoes</dt>
              <dd>
                <Figure
                  name="Apparent attenuation by two back-wall echoes"
                  text={inWords(second)}
                  asked={apparent}
                  onAsk={onAsk}
                  isAsked={isSame(asked, apparent)}
                />
              </dd>
            </>
          )}
        </dl>
      )}
      {withoutLaw !== null && <p className={styles.note}>{withoutLaw}</p>}
      <DoubtNotes
        label="Doubts about the attenuation"
        doubts={doubts.map(({ sentence }) => ({ sentence, advice: null }))}
      />
      {(measured?.remarks ?? []).map((sentence) => (
        <p key={sentence} className={styles.note}>
          {sentence}
        </p>
      ))}
      {measured !== null && <Echoes {...props} />}
      <BackWall {...props} />
    </Step>
  );
}

function Echoes({ result, onAsk, asked, style }: OfCurve) {
  const { near = null, far = null } = result?.attenuation ?? {};
  return (
    <ul className={own.results} aria-label="Back-wall echoes">
      {[near, far].map((echo) => {
        if (echo === null) return null;
        const figureAsked: FigureAsked = {
          kind: 'sensitivity',
          figure: 'back-wall-amplitude',
          distanceMm: echo.distanceMm,
        };
        const at = figureWords(figures.statedMm(echo.distanceMm, style), style);
        return (
          <li key={echo.distanceMm} className={own.result}>
            <div className={own.line}>
              <span className={own.name}>{at}</span>
              <Figure
                name={`Height of the back-wall echo at ${at}`}
                text={inWords(figureWords(figures.amplitudePercent(echo.amplitudePercent, style), style))}
                asked={figureAsked}
                onAsk={onAsk}
                isAsked={isSame(asked, figureAsked)}
              />
              <span className={own.soft}>
                {echo.gainDb === null ? '' : inWords(figureWords(figures.levelDb(echo.gainDb, style), style))}
              </span>
            </div>
            {echo.flags.map((flag) => (
              <p key={flag} className={own.remark}>
                {flagTexts[flag].sentence}
              </p>
            ))}
          </li>
        );
      })}
    </ul>
  );
}

/** The two echoes stand in the review as soon as both are given. */
function BackWall({ choices, sensitivity, change, style }: OfCurve) {
  const { attenuation } = sensitivity;
  const [begun, setBegun] = useState<{
    readonly captures: readonly string[];
    readonly list: readonly Reflector[];
  } | null>(null);
  const { captures, list } =
    attenuation === null
      ? (begun ?? { captures: [], list: [] })
      : { captures: attenuation.captures, list: [attenuation.near, attenuation.far] };
  const isOpen = attenuation !== null || begun !== null;
  const set = (next: { readonly captures: readonly string[]; readonly list: readonly Reflector[] }) => {
    setBegun(next);
    const made = backWallOf(next.list, next.captures, attenuation);
    if (made !== null || attenuation !== null) change({ attenuation: made });
  };
  if (!isOpen)
    return (
      <div className={styles.actions}>
        <Button onPress={() => setBegun({ captures: [], list: [] })}>By two back-wall echoes …</Button>
      </div>
    );
  return (
    <details className={own.folded} open={attenuation === null}>
      <summary>Two echoes of one back wall: {chosenInWords(captures, 'choose the capture')}</summary>
      <div className={own.inner}>
        <CapturePicker
          label="Captures of the back wall"
          choices={choices}
          chosen={captures}
          onChosen={(next) => set({ captures: next, list })}
        />
        <WindowTable hasTolerance list={list} style={style} onList={(next) => set({ captures, list: next })} />
        {list.length > 2 && <p className={own.remark}>Two echoes are taken: the nearest two.</p>}
        <div className={styles.actions}>
          <Button
            small
            onPress={() => {
              setBegun(null);
              if (attenuation !== null) change({ attenuation: null });
            }}
          >
            Leave it out
          </Button>
        </div>
      </div>
    </details>
  );
}
