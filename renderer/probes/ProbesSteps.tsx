import { useState } from 'react';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import type { AgainstStated } from '../../core/probe/against-stated.ts';
import { type ProbeFigure, probeFigureNames, probeFigures } from '../../core/probe/figures.ts';
import { publishedStatedRules, type StatedRule } from '../../core/probe/rule.ts';
import type { OfProbe, ProbesDecision } from '../../core/review/probes-decision.ts';
import type { ProbesResult } from '../../core/steps/probes.ts';
import type { FigureStyle, Measure } from '../../core/units/figure-style.ts';
import { decimalsFor, formatNumber } from '../../core/units/format-quantity.ts';
import { isSame } from '../audit/asked.ts';
import own from '../audit/Check.module.css';
import { CapturesStep, WindowFields } from '../audit/CheckSteps.tsx';
import { inWords } from '../audit/figure-words.ts';
import { isGiven } from '../audit/linearity-decision.ts';
import { VerdictSign } from '../audit/VerdictSign.tsx';
import { Button, IconButton } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { toldOnce } from '../parts/told-once.ts';
import type { CaptureChoice } from '../procedures/capture-choices.ts';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import { FileButton } from '../procedures/FileButton.tsx';
import { anything, positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step, Steps } from '../procedures/Step.tsx';
import type { WindowWanted } from '../state/workbench-state.ts';
import { noProbes, windowOf, windowOptions, withProbe } from './probes-decision.ts';

export interface ProbesStepsProps {
  readonly choices: readonly CaptureChoice[];
  /** `null` where nothing was begun. */
  readonly decision: ProbesDecision | null;
  readonly onDecision: (decision: ProbesDecision | null) => void;
  readonly result: ProbesResult | null;
  readonly isEvaluating: boolean;
  /** What is wrong with the file that was given last. */
  readonly fileProblems: readonly Problem[];
  readonly onStatedFile: (file: File) => void;
  readonly onRuleFile: (file: File) => void;
  readonly onDraw: (wanted: WindowWanted | null) => void;
  readonly drawing: string | null;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}

type Of = ProbesStepsProps & {
  readonly decided: ProbesDecision;
  readonly change: (part: Partial<ProbesDecision>) => void;
};

/** Captures, gate, elements, stated figures, and what came of them, as a column of steps. */
export function ProbesSteps(props: ProbesStepsProps) {
  const decided = props.decision ?? noProbes;
  const of: Of = { ...props, decided, change: (part) => props.onDecision({ ...decided, ...part }) };
  return (
    <Steps label="Probes">
      <CapturesStep
        choices={props.choices}
        captures={decided.captures}
        nothing="Choose the captures of one reflector, with one probe or several; captures of one probe are put together by its name."
        onCaptures={(captures) => of.change({ captures })}
        onRemove={props.decision === null ? null : () => props.onDecision(null)}
        remove="Take the probes out"
      />
      <EchoStep {...of} />
      <BeamStep {...of} />
      <StatedStep {...of} />
      <OutcomeStep {...of} />
    </Steps>
  );
}

/** Probes that were found, then those of which something is known. */
function namesOf({ decided, result }: Of): readonly string[] {
  const found = (result?.probes ?? []).map(({ probe }) => probe);
  return [...new Set([...found, ...decided.probes.map(({ name }) => name)])];
}

function EchoStep(of: Of) {
  const { decided, change, onDraw, drawing, style } = of;
  const { gate, spectrum } = decided;
  const ownGates = decided.probes.filter((probe) => probe.gate !== null).length;
  const isReady = isGiven(gate);
  const time = (us: number) => figureWords(figures.timeUs(us, style), style);
  return (
    <Step
      title="Echo and spectrum"
      state={isReady ? 'found' : 'needs'}
      summary={
        isReady
          ? `From ${time(gate.fromUs)} to ${time(gate.toUs)}${ownGates === 0 ? '' : ` (${ownGates} with a gate of their own)`}, ${windowOptions.find(({ id }) => id === spectrum.window.kind)?.label} window`
          : 'Draw or type a gate that holds one whole echo of every probe and nothing else.'
      }
    >
      <WindowFields
        name="gate"
        window={gate}
        onWindow={(next) => change({ gate: next })}
        onDraw={onDraw}
        drawing={drawing}
        style={style}
      />
      {isReady && <OwnGates {...of} />}
      <div className={styles.row}>
        <Choice
          label="Window of the spectrum"
          options={windowOptions}
          chosen={spectrum.window.kind}
          onChoose={(kind) => change({ spectrum: { ...spectrum, window: windowOf(kind) } })}
        />
        <Choice
          label="Zeros added"
          options={[1, 2, 4, 8, 16, 32].map((times) => ({ id: String(times), label: `to ${times} times` }))}
          chosen={String(spectrum.padding)}
          onChoose={(times) => change({ spectrum: { ...spectrum, padding: Number(times) } })}
        />
      </div>
    </Step>
  );
}

/** A probe whose echo comes earlier or later than the gate of all has one of its own. */
function OwnGates(of: Of) {
  const { decided, change, onDraw, drawing, style } = of;
  const [chosen, setChosen] = useState<string | null>(null);
  const names = namesOf(of);
  if (names.length < 2) return null;
  const name = chosen !== null && names.includes(chosen) ? chosen : null;
  const gateOf = (probe: string) => decided.probes.find((each) => each.name === probe)?.gate ?? null;
  const set = (probe: string, gate: OfProbe['gate']) => change({ probes: withProbe(decided.probes, probe, { gate }) });
  return (
    <>
      <Choice
        label="A gate of its own for"
        placeholder="no probe chosen"
        options={names.map((id) => ({ id, label: id, description: gateOf(id) === null ? null : 'has one' }))}
        chosen={name}
        onChoose={setChosen}
      />
      {name !== null && (
        <>
          <WindowFields
            key={name}
            name={`gate of ${name}`}
            window={gateOf(name) ?? decided.gate}
            onWindow={(next) => set(name, next)}
            onDraw={onDraw}
            drawing={drawing}
            style={style}
          />
          {gateOf(name) === null ? (
            <p className={styles.note}>It is read in the gate of all until another one is drawn or typed here.</p>
          ) : (
            <div className={styles.actions}>
              <Button small onPress={() => set(name, null)}>
                Read it in the gate of all
              </Button>
            </div>
          )}
        </>
      )}
    </>
  );
}

function BeamStep({ decided, change, style }: Of) {
  const { elementMm, velocityMPerS } = decided;
  const isReady = elementMm !== null && velocityMPerS !== null;
  return (
    <Step
      title="Element and material"
      state={isReady ? 'found' : 'optional'}
      summary={
        isReady
          ? `Element ${figureWords(figures.statedMm(elementMm, style), style)}, ${figureWords(figures.velocityMPerS(velocityMPerS, style), style)}`
          : 'For near field and beam spread: a round element’s diameter, and the velocity.'
      }
      isOpenAtFirst={false}
    >
      <div className={styles.row}>
        <OptionalQuantityInput
          label="Element"
          measure="length"
          bound={positive}
          style={style}
          value={elementMm}
          placeholder="not known"
          onValue={(value) => change({ elementMm: value })}
        />
        <OptionalQuantityInput
          label="Velocity"
          measure="velocity"
          bound={positive}
          style={style}
          value={velocityMPerS}
          placeholder="not known"
          onValue={(value) => change({ velocityMPerS: value })}
        />
      </div>
    </Step>
  );
}

const noRule = 'none';
const decisions = [
  { id: 'with-uncertainty', label: 'Limit guarded by 2 u' },
  { id: 'simple-acceptance', label: 'Value alone' },
] as const;

function StatedStep(of: Of) {
  const { decided, change, fileProblems, onStatedFile, onRuleFile, style } = of;
  const [chosen, setChosen] = useState<string | null>(null);
  const names = namesOf(of);
  const name = chosen !== null && names.includes(chosen) ? chosen : (names[0] ?? null);
  const count = decided.probes.filter(({ stated }) => stated.length > 0).length;
  const { rule: choice } = decided;
  const rule: StatedRule | null =
    choice === null
      ? null
      : choice.kind === 'own'
        ? choice.rule
        : (publishedStatedRules.find((each) => each.name === choice.name) ?? null);
  return (
    <Step
      title="Stated figures"
      state={count > 0 ? 'found' : 'optional'}
      summary={
        count === 0
          ? 'What the maker states of a probe, and how far it may lie from that.'
          : `Of ${count} ${count === 1 ? 'probe' : 'probes'}; ${rule === null ? 'no rule limits how far they may lie off.' : rule.title}`
      }
      isOpenAtFirst={false}
    >
      {names.length > 1 && (
        <Choice
          label="Probe"
          options={names.map((id) => ({ id, label: id }))}
          chosen={name}
          onChoose={(id) => setChosen(id)}
        />
      )}
      {name !== null && <ProbeStated key={name} name={name} probes={decided.probes} change={change} style={style} />}
      <Choice
        label="Rule"
        options={[
          { id: noRule, label: 'No rule: deviations without verdicts' },
          ...publishedStatedRules.map((each) => ({ id: each.name, label: each.title, description: each.edition })),
          ...(choice?.kind === 'own'
            ? [
                {
                  id: `own ${choice.rule.name}`,
                  label: choice.rule.title,
                  description: `${choice.rule.edition} (a rule of my own)`,
                },
              ]
            : []),
        ]}
        chosen={choice === null ? noRule : choice.kind === 'own' ? `own ${choice.rule.name}` : choice.name}
        onChoose={(id) => {
          if (id === noRule) change({ rule: null });
          else if (!id.startsWith('own ')) change({ rule: { kind: 'published', name: id } });
        }}
      />
      {rule !== null && (
        <>
          <p className={styles.note}>
            Edition: {rule.edition}. {rule.source}
          </p>
          <Toggle
            label="What decides"
            options={decisions}
            chosen={decided.decision}
            onChoose={(decision) => change({ decision })}
          />
        </>
      )}
      <DoubtNotes
        label="What is wrong with the file"
        doubts={fileProblems.map(({ place, sentence }) => ({
          sentence: `${[place.file, place.line, place.column].filter((part) => part != null).join(':')}: ${sentence}`,
          advice: null,
        }))}
      />
      <div className={styles.actions}>
        <FileButton label="A file of stated figures …" accept={jsonFiles} onFile={onStatedFile} />
        <FileButton label="A rule file of my own …" accept={jsonFiles} onFile={onRuleFile} />
      </div>
    </Step>
  );
}

const jsonFiles = ['.json', 'application/json'];

/** Figures that have a measure, so that a field can read them in the person’s units; the rest come by a file. */
const statable = probeFigureNames.flatMap((figure) => {
  const { measure } = probeFigures[figure];
  return measure === null ? [] : [{ figure, measure: measure as Measure }];
});

function ProbeStated({
  name,
  probes,
  change,
  style,
}: {
  readonly name: string;
  readonly probes: readonly OfProbe[];
  readonly change: (part: Partial<ProbesDecision>) => void;
  readonly style: FigureStyle;
}) {
  const known = probes.find((probe) => probe.name === name) ?? null;
  const stated = known?.stated ?? [];
  const set = (part: Partial<OfProbe>) => change({ probes: withProbe(probes, name, part) });
  const [figure, setFigure] = useState<ProbeFigure>('centre-frequency-e1065');
  const [value, setValue] = useState<number | null>(null);
  const free = statable.filter((each) => !stated.some((one) => one.figure === each.figure));
  const adding = free.find((each) => each.figure === figure) ?? free[0] ?? null;
  return (
    <>
      <OptionalQuantityInput
        label={`Element of ${name}`}
        measure="length"
        bound={positive}
        style={style}
        value={known?.elementMm ?? null}
        placeholder="that of all"
        onValue={(elementMm) => set({ elementMm })}
      />
      {stated.length > 0 && (
        <ul className={own.results} aria-label={`Stated of ${name}`}>
          {stated.map((one) => {
            const { title } = probeFigures[one.figure];
            return (
              <li key={one.figure} className={own.result}>
                <div className={own.line}>
                  <span>{title}</span>
                  <span>{inWords(statedWords(one.figure, one.value, style))}</span>
                  <IconButton
                    icon="remove"
                    label={`Take out: ${title}`}
                    onPress={() => set({ stated: stated.filter((each) => each !== one) })}
                  />
                </div>
              </li>
            );
          })}
        </ul>
      )}
      {adding !== null && (
        <fieldset className={styles.row} aria-label="Another stated figure">
          <Choice
            label="Figure"
            options={free.map((each) => ({ id: each.figure, label: probeFigures[each.figure].title }))}
            chosen={adding.figure}
            onChoose={setFigure}
          />
          <OptionalQuantityInput
            label="Stated"
            measure={adding.measure}
            bound={adding.measure === 'level' ? anything : positive}
            style={style}
            value={value}
            onValue={setValue}
          />
          <Button
            isDisabled={value === null}
            onPress={() => {
              if (value === null) return;
              set({ stated: [...stated, { figure: adding.figure, value }] });
              setValue(null);
            }}
          >
            Add
          </Button>
        </fieldset>
      )}
    </>
  );
}

/** With the digits it was stated with. */
function statedWords(figure: ProbeFigure, value: number, style: FigureStyle): string {
  const { unit } = probeFigures[figure];
  if (unit === 'mm') return figureWords(figures.statedMm(value, style), style);
  const decimals = Math.min(6, /\.(\d+)$/.exec(String(value))?.[1]?.length ?? 0);
  const text = formatNumber(value, decimals, style);
  return unit === '' ? text : unit === '°' ? `${text}°` : `${text} ${unit}`;
}

function OutcomeStep({ decided, decision, result, isEvaluating, onAsk, asked, style }: Of) {
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
