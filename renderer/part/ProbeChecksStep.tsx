import type { VerdictOutcome } from '../../core/check/verdict.ts';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import type { ProbeCheckResult, ProbeFigure } from '../../core/probe-check/probe-checks.ts';
import { publishedProbeRules } from '../../core/probe-check/rule.ts';
import type { PartDecision, ProbeChecks } from '../../core/review/part-decision.ts';
import { type FigureStyle, quantityText, unitSign } from '../../core/units/figure-style.ts';
import type { Quantity } from '../../core/units/quantity.ts';
import { isSame } from '../audit/asked.ts';
import { VerdictSign } from '../audit/VerdictSign.tsx';
import { Button, IconButton } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { QuantityField, type Read } from '../parts/QuantityField.tsx';
import { anything, notNegative, positive, readIn, shownIn } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import steps from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { AddEntry } from './AddEntry.tsx';
import { Faults } from './Faults.tsx';
import styles from './Part.module.css';

interface ProbeChecksStepProps {
  readonly part: PartDecision;
  readonly onPart: (part: PartDecision) => void;
  readonly checks: ProbeCheckResult | null;
  readonly problems: readonly Problem[];
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}

const nothingChecked: ProbeChecks = {
  index: null,
  angle: null,
  elsewhere: null,
  decision: 'with-uncertainty',
  rule: null,
};
const noRule = 'none';

/** Index point and angle of the probe as found on a block, and the angle it has elsewhere. */
export function ProbeChecksStep(props: ProbeChecksStepProps) {
  const { part, onPart, checks: result, problems, style } = props;
  const checks = part.checks ?? nothingChecked;
  const set = (next: Partial<ProbeChecks>) => {
    const changed = { ...checks, ...next };
    const isNothing = changed.index === null && changed.angle === null && changed.elsewhere === null;
    onPart({ ...part, checks: isNothing && changed.rule === null ? null : changed });
  };
  const outcomes = [result?.indexToFrontMm, result?.angleDeg].flatMap((one) => one?.verdict?.outcome ?? []);
  const worst = (['fail', 'inconclusive'] as const).find((outcome) => outcomes.includes(outcome));
  const rule = result?.rule ?? null;
  return (
    <Step
      title="Checks of the probe"
      state={
        problems.length > 0 || worst === 'fail'
          ? 'wrong'
          : worst !== undefined
            ? 'doubt'
            : part.checks === null
              ? 'optional'
              : 'found'
      }
      word={worst === 'fail' ? 'fails' : null}
      summary={part.checks === null ? 'Index point and angle as found on a block.' : summaryOf(result, style)}
      isOpenAtFirst={problems.length > 0}
    >
      {checks.index === null ? (
        <AddEntry
          label="Check the index point"
          style={style}
          fields={[{ label: 'Radius of the block', measure: 'length', bound: positive }]}
          onAdd={([radiusMm]) => set({ index: { radiusMm: radiusMm!, frontToEndMm: [], uRulerMm: 0.5 } })}
        />
      ) : (
        <fieldset className={styles.entry}>
          <legend className={styles.legend}>Index point, on a radius</legend>
          <div className={steps.row}>
            <QuantityInput
              label="Radius"
              measure="length"
              bound={positive}
              style={style}
              value={checks.index.radiusMm}
              onValue={(radiusMm) => set({ index: { ...checks.index!, radiusMm } })}
            />
            <IconButton
              icon="remove"
              label="Take out the check of the index point"
              onPress={() => set({ index: null })}
            />
          </div>
          <Ruler value={checks.index} style={style} onValue={(index) => set({ index })} />
          <Found
            name="Index point to front"
            figure="index-point"
            found={result?.indexToFrontMm ?? null}
            text={(known) => figureWithUncertainty(figures.lengthMm(known, style), style)}
            {...props}
          />
        </fieldset>
      )}
      {checks.angle === null ? (
        <AddEntry
          label="Check the angle"
          style={style}
          fields={[
            { label: 'Reflector from the end', measure: 'length', bound: anything },
            { label: 'Its depth', measure: 'length', bound: positive },
          ]}
          onAdd={([fromEndMm, depthMm]) =>
            set({ angle: { fromEndMm: fromEndMm!, depthMm: depthMm!, frontToEndMm: [], uRulerMm: 0.5 } })
          }
        />
      ) : (
        <fieldset className={styles.entry}>
          <legend className={styles.legend}>Angle, on a hole or notch</legend>
          <div className={steps.row}>
            <QuantityInput
              label="From the end"
              measure="length"
              bound={anything}
              style={style}
              value={checks.angle.fromEndMm}
              onValue={(fromEndMm) => set({ angle: { ...checks.angle!, fromEndMm } })}
            />
            <QuantityInput
              label="Depth"
              measure="length"
              bound={positive}
              style={style}
              value={checks.angle.depthMm}
              onValue={(depthMm) => set({ angle: { ...checks.angle!, depthMm } })}
            />
            <IconButton icon="remove" label="Take out the check of the angle" onPress={() => set({ angle: null })} />
          </div>
          <Ruler value={checks.angle} style={style} onValue={(angle) => set({ angle })} />
          <Found
            name="Angle"
            figure="probe-angle"
            found={result?.angleDeg ?? null}
            text={(known) => quantityText(known, 'angle', 1, style)}
            {...props}
          />
        </fieldset>
      )}
      {checks.elsewhere === null ? (
        <AddEntry
          label="Expect the angle elsewhere"
          style={style}
          fields={[
            { label: 'Velocity here', measure: 'velocity', bound: positive },
            { label: 'Velocity there', measure: 'velocity', bound: positive },
          ]}
          onAdd={([velocityMPerS, inVelocityMPerS]) =>
            set({
              elsewhere: { velocityMPerS: velocityMPerS!, inVelocityMPerS: inVelocityMPerS!, wedge: null },
            })
          }
        />
      ) : (
        <fieldset className={styles.entry}>
          <legend className={styles.legend}>Angle expected elsewhere, by Snell’s law</legend>
          <div className={steps.row}>
            <QuantityInput
              label="Velocity here"
              measure="velocity"
              bound={positive}
              style={style}
              value={checks.elsewhere.velocityMPerS}
              onValue={(velocityMPerS) => set({ elsewhere: { ...checks.elsewhere!, velocityMPerS } })}
            />
            <QuantityInput
              label="Velocity there"
              measure="velocity"
              bound={positive}
              style={style}
              value={checks.elsewhere.inVelocityMPerS}
              onValue={(inVelocityMPerS) => set({ elsewhere: { ...checks.elsewhere!, inVelocityMPerS } })}
            />
            <IconButton icon="remove" label="Take out the expected angle" onPress={() => set({ elsewhere: null })} />
          </div>
          {result?.elsewhere?.kind === 'refracted' && (
            <Found
              name="Angle expected"
              figure="expected-angle"
              found={result.elsewhere.against ?? bare(result.elsewhere.angleDeg)}
              text={(known) => quantityText(known, 'angle', 1, style)}
              {...props}
            />
          )}
        </fieldset>
      )}
      <Faults problems={problems} />
      {part.checks !== null && (
        <>
          <Choice
            label="Rule"
            options={[
              { id: noRule, label: 'No rule: figures without verdicts' },
              ...publishedProbeRules.map(({ name, title }) => ({ id: name, label: title })),
            ]}
            chosen={checks.rule?.kind === 'published' ? checks.rule.name : noRule}
            onChoose={(id) => set({ rule: id === noRule ? null : { kind: 'published', name: id } })}
          />
          {rule !== null && (
            <p className={steps.note}>
              {rule.clause}. Edition: {rule.edition}. {rule.source}
            </p>
          )}
          <Toggle
            label="A limit is decided by"
            options={[
              { id: 'with-uncertainty', label: 'Limit guarded by 2 u' },
              { id: 'simple-acceptance', label: 'Value alone' },
            ]}
            chosen={checks.decision}
            onChoose={(decision) => set({ decision })}
          />
          {(result?.remarks ?? []).map((remark) => (
            <p key={remark} className={steps.note}>
              {remark}
            </p>
          ))}
          <div className={steps.actions}>
            <Button small onPress={() => onPart({ ...part, checks: null })}>
              Take all checks out
            </Button>
          </div>
        </>
      )}
    </Step>
  );
}

function bare(measured: Quantity): ProbeFigure {
  return { measured, stated: null, deviation: null, limits: null, verdict: null };
}

function summaryOf(result: ProbeCheckResult | null, style: FigureStyle): string {
  const parts = [
    result?.indexToFrontMm == null
      ? null
      : `index point ${figureWords(figures.lengthMm(result.indexToFrontMm.measured.value, style), style)}`,
    result?.angleDeg == null ? null : `angle ${quantityText(result.angleDeg.measured, 'angle', 1, style)}`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? 'Readings are needed.' : `Found: ${parts.join(', ')}`;
}

interface RulerRead {
  readonly frontToEndMm: number[];
  readonly uRulerMm: number;
}

/** The lengths that were read, several times over, and how well the ruler tells them. */
function Ruler<R extends RulerRead>({
  value,
  style,
  onValue,
}: {
  readonly value: R;
  readonly style: FigureStyle;
  readonly onValue: (value: R) => void;
}) {
  const shown = shownIn('length', style);
  const read = readIn('length', style, anything);
  const readAll = (words: string): Read<number[]> => {
    const lengths: number[] = [];
    for (const word of words.split(/[;\s]+/).filter(Boolean)) {
      const one = read(word);
      if (!one.ok) return one;
      lengths.push(one.value);
    }
    return { ok: true, value: lengths };
  };
  return (
    <div className={steps.row}>
      <QuantityField
        label={`Front of the wedge to the end (${unitSign('length', style)})`}
        description="Each reading, parted by blanks"
        value={value.frontToEndMm}
        shown={(list) => list.map(shown).join(' ')}
        read={readAll}
        onCommit={(frontToEndMm) => onValue({ ...value, frontToEndMm })}
      />
      <QuantityInput
        label="u of the ruler"
        measure="length"
        bound={notNegative}
        style={style}
        value={value.uRulerMm}
        onValue={(uRulerMm) => onValue({ ...value, uRulerMm })}
      />
    </div>
  );
}

function Found({
  name,
  figure,
  found,
  text,
  asked,
  onAsk,
}: {
  readonly name: string;
  readonly figure: 'index-point' | 'probe-angle' | 'expected-angle';
  readonly found: ProbeFigure | null;
  readonly text: (known: Quantity) => string;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
}) {
  if (found === null) return null;
  const ask = { kind: 'location', figure } as const;
  const outcome: VerdictOutcome | null = found.verdict?.outcome ?? null;
  return (
    <p className={styles.found}>
      {name} <Figure name={name} text={text(found.measured)} asked={ask} onAsk={onAsk} isAsked={isSame(ask, asked)} />
      {outcome !== null && <VerdictSign outcome={outcome} />}
    </p>
  );
}
