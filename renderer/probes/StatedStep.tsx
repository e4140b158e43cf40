import { useState } from 'react';
import { figures, figureWords } from '../../core/origin/figure.ts';
import { type ProbeFigure, probeFigureNames, probeFigures } from '../../core/probe/figures.ts';
import { publishedStatedRules, type StatedRule } from '../../core/probe/rule.ts';
import type { OfProbe, ProbesDecision } from '../../core/review/probes-decision.ts';
import type { FigureStyle, Measure } from '../../core/units/figure-style.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import own from '../audit/Check.module.css';
import { inWords } from '../audit/figure-words.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import { FileButton } from '../procedures/FileButton.tsx';
import { anything, positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import type { OfProbes } from './ProbesSteps.tsx';
import { namesOf } from './probe-names.ts';
import { withProbe } from './probes-decision.ts';

const noRule = 'none';
const decisions = [
  { id: 'with-uncertainty', label: 'Limit guarded by 2 u' },
  { id: 'simple-acceptance', label: 'Value alone' },
] as const;

/** What is stated of each probe, and the rule that it is held to. */
export function StatedStep(of: OfProbes) {
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
export function statedWords(figure: ProbeFigure, value: number, style: FigureStyle): string {
  const { unit } = probeFigures[figure];
  if (unit === 'mm') return figureWords(figures.statedMm(value, style), style);
  const decimals = Math.min(6, /\.(\d+)$/.exec(String(value))?.[1]?.length ?? 0);
  const text = formatNumber(value, decimals, style);
  return unit === '' ? text : unit === '°' ? `${text}°` : `${text} ${unit}`;
}
