import { useState } from 'react';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { AttenuationAt, MaterialResult } from '../../core/steps/material.ts';
import { type FigureStyle, toShown, unitSign } from '../../core/units/figure-style.ts';
import { decimalsFor, formatNumber } from '../../core/units/format-quantity.ts';
import { isSame } from '../audit/asked.ts';
import own from '../audit/Check.module.css';
import { CapturesStep, WindowFields } from '../audit/CheckSteps.tsx';
import { inWords } from '../audit/figure-words.ts';
import { isGiven } from '../audit/linearity-decision.ts';
import { Button } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { toldOnce } from '../parts/told-once.ts';
import type { CaptureChoice } from '../procedures/capture-choices.ts';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import { notNegative, positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput, QuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step, Steps } from '../procedures/Step.tsx';
import type { WindowWanted } from '../state/workbench-state.ts';
import type { MaterialDraft } from './probes-decision.ts';

export interface MaterialStepsProps {
  readonly choices: readonly CaptureChoice[];
  readonly draft: MaterialDraft;
  readonly onDraft: (draft: MaterialDraft) => void;
  readonly onRemove: (() => void) | null;
  readonly result: MaterialResult | null;
  readonly isEvaluating: boolean;
  readonly onDraw: (wanted: WindowWanted | null) => void;
  readonly drawing: string | null;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}

/** Velocity and attenuation from the echoes of one back wall at a known thickness. */
export function MaterialSteps(props: MaterialStepsProps) {
  const change = (part: Partial<MaterialDraft>) => props.onDraft({ ...props.draft, ...part });
  return (
    <Steps label="Material">
      <CapturesStep
        choices={props.choices}
        captures={props.draft.captures}
        nothing="Choose captures that show two echoes or more of one back wall."
        onCaptures={(captures) => change({ captures })}
        onRemove={null}
      />
      <ThicknessStep {...props} change={change} />
      <EchoesStep {...props} change={change} />
      <VelocityStep {...props} />
      <AttenuationStep {...props} change={change} />
    </Steps>
  );
}

type Changing = MaterialStepsProps & { readonly change: (part: Partial<MaterialDraft>) => void };

function ThicknessStep({ draft, change, onRemove, style }: Changing) {
  const { thicknessMm, toleranceMm } = draft;
  return (
    <Step
      title="Thickness"
      state={thicknessMm === null ? 'needs' : 'found'}
      summary={
        thicknessMm === null
          ? 'State the thickness between surface and back wall.'
          : `${figureWords(figures.statedMm(thicknessMm, style), style)}${toleranceMm === 0 ? ', taken as exact' : ` ± ${figureWords(figures.statedMm(toleranceMm, style), style)}`}`
      }
      isOpenAtFirst={thicknessMm === null}
    >
      <div className={styles.row}>
        <OptionalQuantityInput
          label="Thickness"
          measure="length"
          bound={positive}
          style={style}
          value={thicknessMm}
          onValue={(value) => value !== null && change({ thicknessMm: value })}
        />
        <QuantityInput
          label="Tolerance ±"
          measure="length"
          bound={notNegative}
          style={style}
          value={toleranceMm}
          onValue={(value) => change({ toleranceMm: value })}
        />
      </div>
      {onRemove !== null && (
        <div className={styles.actions}>
          <Button small onPress={onRemove}>
            Leave the material out
          </Button>
        </div>
      )}
    </Step>
  );
}

const ordinal = (n: number): string => ['first', 'second', 'third', 'fourth', 'fifth', 'sixth'][n - 1] ?? `${n}th`;

function EchoesStep({ draft, change, onDraw, drawing, style }: Changing) {
  const { echoes } = draft;
  const given = echoes.filter(isGiven).length;
  const next = Math.max(0, ...echoes.map(({ multiple }) => multiple)) + 1;
  return (
    <Step
      title="Back-wall echoes"
      state={given >= 2 ? 'found' : 'needs'}
      summary={
        given >= 2
          ? `${given} echoes, each in its window`
          : 'Draw or type a window about each echo, the echo whole and nothing else in it.'
      }
      isOpenAtFirst={given < 2}
    >
      {echoes.map((echo, i) => (
        <div key={echo.multiple}>
          <WindowFields
            name={`${ordinal(echo.multiple)} back-wall echo`}
            window={echo}
            onWindow={(window) => change({ echoes: echoes.with(i, { ...echo, ...window }) })}
            onDraw={onDraw}
            drawing={drawing}
            style={style}
          />
          {echoes.length > 2 && (
            <Button
              small
              kind="quiet"
              onPress={() => change({ echoes: echoes.toSpliced(i, 1) })}
              aria-label={`Take out the ${ordinal(echo.multiple)} back-wall echo`}
            >
              Take out
            </Button>
          )}
        </div>
      ))}
      <div className={styles.actions}>
        <Button small onPress={() => change({ echoes: [...echoes, { multiple: next, fromUs: 0, toUs: 0 }] })}>
          Another echo
        </Button>
      </div>
    </Step>
  );
}

function VelocityStep({ result, isEvaluating, onAsk, asked, style }: MaterialStepsProps) {
  if (result === null)
    return (
      <Step title="Velocity" state={isEvaluating ? 'working' : 'needs'} summary="Needs captures, thickness and echoes.">
        {null}
      </Step>
    );
  const { velocityMPerS, sample, problems, captures } = result;
  const ask: FigureAsked = { kind: 'material', figure: 'velocity' };
  return (
    <Step
      title="Velocity"
      state={velocityMPerS === null ? 'wrong' : problems.length > 0 ? 'doubt' : 'found'}
      summary={
        velocityMPerS === null
          ? 'No capture gave a velocity.'
          : `Mean of ${sample?.count ?? 0} of ${captures.length} ${captures.length === 1 ? 'capture' : 'captures'}${sample?.sd == null ? '' : `, spread ${inWords(figureWords(figures.velocityMPerS(sample.sd, style), style))}`}`
      }
    >
      <DoubtNotes
        label="Doubts about the echoes"
        doubts={toldOnce(problems).map((sentence) => ({ sentence, advice: null }))}
      />
      {velocityMPerS !== null && (
        <dl className={styles.figures}>
          <dt>Velocity</dt>
          <dd className={styles.large}>
            <Figure
              name="Velocity of the material"
              text={inWords(figureWithUncertainty(figures.velocityMPerS(velocityMPerS, style), style))}
              asked={ask}
              onAsk={onAsk}
              isAsked={isSame(asked, ask)}
            />
          </dd>
        </dl>
      )}
    </Step>
  );
}

const spreadings = [
  { id: 'none', label: 'Nothing taken out', description: 'The whole fall from echo to echo' },
  { id: 'far-field', label: 'Far field', description: '1 / distance taken out' },
  { id: 'piston', label: 'Round element', description: 'Diffraction of a round piston taken out: needs its diameter' },
] as const;

/** So many lines in the list; the picture and the file have all. */
const mostListed = 12;

function AttenuationStep({ draft, change, result, isEvaluating, onAsk, asked, style }: Changing) {
  const { spreading } = draft;
  // Until its diameter is stated, what stood before holds.
  const [isPiston, setPiston] = useState(spreading.kind === 'piston');
  const band = result?.band ?? null;
  const number = (value: number) => formatNumber(value, 2, style);
  const without = [...new Set((result?.captures ?? []).flatMap(({ withoutAttenuation }) => withoutAttenuation ?? []))];
  const all = result?.attenuation ?? [];
  const every = Math.max(1, Math.ceil(all.length / mostListed));
  return (
    <Step
      title="Attenuation"
      state={result === null ? (isEvaluating ? 'working' : 'needs') : band === null ? 'wrong' : 'found'}
      summary={
        result === null
          ? 'Needs two echoes of the back wall.'
          : band === null
            ? 'There is no band in which the ratio of the spectra means something.'
            : `Meaningful from ${number(band.fromMHz)} to ${number(band.toMHz)} MHz; drawn below the trace.`
      }
    >
      <Choice
        label="Spreading of the beam"
        options={spreadings}
        chosen={isPiston ? 'piston' : spreading.kind}
        onChoose={(kind) => {
          setPiston(kind === 'piston');
          if (kind !== 'piston') change({ spreading: { kind } });
        }}
      />
      {isPiston && (
        <OptionalQuantityInput
          label="Element"
          measure="length"
          bound={positive}
          style={style}
          value={spreading.kind === 'piston' ? spreading.elementMm : null}
          placeholder="needed"
          onValue={(elementMm) => elementMm !== null && change({ spreading: { kind: 'piston', elementMm } })}
        />
      )}
      <DoubtNotes
        label="Captures without an attenuation"
        doubts={without.map((sentence) => ({ sentence, advice: null }))}
      />
      {all.length > 0 && (
        <ul className={own.results} aria-label="Attenuation over frequency">
          {all
            .filter((_, i) => i % every === 0)
            .map((line) => {
              const { frequencyMHz } = line;
              const ask: FigureAsked = { kind: 'material', figure: 'attenuation', frequencyMHz };
              return (
                <li key={frequencyMHz} className={own.result}>
                  <div className={own.line}>
                    <span>{number(frequencyMHz)} MHz</span>
                    <Figure
                      name={`Attenuation at ${number(frequencyMHz)} MHz`}
                      text={inWords(attenuationWords(line, style))}
                      asked={ask}
                      onAsk={onAsk}
                      isAsked={isSame(asked, ask)}
                    />
                  </div>
                </li>
              );
            })}
        </ul>
      )}
      {(result?.remarks ?? []).map((sentence) => (
        <p key={sentence} className={styles.note}>
          {sentence}
        </p>
      ))}
    </Step>
  );
}

function attenuationWords({ dbPerMm }: AttenuationAt, style: FigureStyle): string {
  const perLength = 1 / toShown(1, 'length', style);
  const u = dbPerMm.standardUncertainty === null ? null : dbPerMm.standardUncertainty * perLength;
  return figureWithUncertainty(
    {
      value: dbPerMm.value * perLength,
      standardUncertainty: u,
      decimals: decimalsFor(u, 3),
      unit: `dB/${unitSign('length', style)}`,
    },
    style,
  );
}
