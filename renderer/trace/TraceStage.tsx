import { type ReactNode, useEffect, useRef, useState } from 'react';
import type { ConditioningRecipe } from '../../core/signal/conditioning.ts';
import { Button } from '../parts/Button.tsx';
import { Icon } from '../parts/Icon.tsx';
import { ConditioningPanel } from './ConditioningPanel.tsx';
import { bandWords } from './conditioning-words.ts';
import { GatePanel } from './GatePanel.tsx';
import { ReflectorDialog } from './ReflectorDialog.tsx';
import { TraceHead } from './TraceHead.tsx';
import styles from './TraceStage.module.css';
import { TraceView } from './TraceView.tsx';
import type { ConditioningPanelProps, TraceHeadProps, TraceViewProps } from './trace-props.ts';

export interface TraceStageProps
  extends Omit<TraceViewProps, 'onEchoChosen' | 'onGateNumbers'>,
    Pick<TraceHeadProps, 'onMode' | 'envelope' | 'onEnvelope'> {
  readonly recipe: ConditioningRecipe;
  readonly recipeProblems: readonly string[];
  onRecipe: ConditioningPanelProps['onRecipe'];
  /** What of the present calibration an added reflector would give up; `null` where it is simply added. */
  readonly reflectorReplaces: string | null;
  onReflector(echo: number, distanceMm: number, toleranceMm: number): void;
  /** What is known of how the first trace was taken. */
  readonly facts: ReactNode;
}

/** The trace with its head and with the panels that belong to it. */
export function TraceStage(props: TraceStageProps) {
  const { traces, gates, readings, selectedGate, onSelectGate, recipe, style, echoes } = props;
  const [isConditioning, setConditioning] = useState(false);
  const [chosenEcho, setChosenEcho] = useState<number | null>(null);
  const stage = useRef<HTMLDivElement>(null);
  const toBeNamed = useRef<string | null>(null);
  const first = traces[0];

  // A gate that was just drawn is to be named by its purpose.
  useEffect(() => {
    if (toBeNamed.current === null || toBeNamed.current !== selectedGate) return;
    toBeNamed.current = null;
    const field = stage.current?.querySelector<HTMLInputElement>('#gate-name');
    field?.focus();
    field?.select();
  }, [selectedGate]);

  if (first === undefined) return null;
  // One panel at a time, so that the plot keeps its height.
  const gate = isConditioning ? undefined : gates.find(({ name }) => name === selectedGate);
  const echo = chosenEcho === null ? undefined : echoes[chosenEcho];
  return (
    <div className={styles.stage} ref={stage}>
      <TraceHead
        {...props}
        trace={first}
        conditioning={bandWords(recipe, style)}
        isConditioning={isConditioning}
        onConditioning={setConditioning}
      />
      {isConditioning && (
        <ConditioningPanel
          recipe={recipe}
          sampleRateMHz={1 / first.stepUs}
          style={style}
          problems={props.recipeProblems}
          onRecipe={props.onRecipe}
          onClose={() => setConditioning(false)}
        />
      )}
      {!isConditioning && props.recipeProblems.length > 0 && (
        <div className={styles.refused} role="alert">
          <Icon name="doubt" />
          <p>{props.recipeProblems.join(' ')}</p>
          <Button small onPress={() => setConditioning(true)}>
            Change the conditioning
          </Button>
        </div>
      )}
      {gate !== undefined && (
        <GatePanel
          // Another gate has other words in its fields.
          key={gates.indexOf(gate)}
          {...props}
          gate={gate}
          reading={readings.find((reading) => reading.gate === gate.name) ?? null}
          onClose={() => onSelectGate(null)}
        />
      )}
      <TraceView
        {...props}
        awaited={first.drawing === null && props.recipeProblems.length === 0}
        onSelectGate={(name) => {
          if (name !== null) setConditioning(false);
          onSelectGate(name);
        }}
        onEchoChosen={setChosenEcho}
        onGateDrawn={(drawn) => {
          toBeNamed.current = drawn.name;
          props.onGateDrawn(drawn);
        }}
        onGateNumbers={(name) => {
          onSelectGate(name);
          const field = stage.current?.querySelector<HTMLInputElement>('#gate-from');
          field?.focus();
          field?.select();
        }}
      />
      {echo !== undefined && chosenEcho !== null && (
        <ReflectorDialog
          echo={echo}
          number={chosenEcho + 1}
          replaces={props.reflectorReplaces}
          style={style}
          onTake={(distanceMm, toleranceMm) => {
            setChosenEcho(null);
            props.onReflector(chosenEcho, distanceMm, toleranceMm);
          }}
          onClose={() => setChosenEcho(null)}
        />
      )}
    </div>
  );
}
