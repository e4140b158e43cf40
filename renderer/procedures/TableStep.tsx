import { useState } from 'react';
import type { Problem } from '../../core/outcome.ts';
import { mixedTiming } from '../../core/steps/mixed-timing.ts';
import { Button } from '../parts/Button.tsx';
import { Modal } from '../parts/Modal.tsx';
import { toldOnce } from '../parts/told-once.ts';
import { DoubtNotes } from './DoubtNote.tsx';
import own from './ReadingsSteps.module.css';
import type { ReadingsStepsProps } from './ReadingsSteps.tsx';
import { ReadingsTable } from './ReadingsTable.tsx';
import styles from './Step.module.css';
import { Step, type StepState } from './Step.tsx';

/** The problems that captures of the part have; those of other procedures stand there. */
function problemsWith(references: readonly string[], problems: readonly Problem[]): readonly Problem[] {
  const fileOf = (reference: string) => reference.slice(0, Math.max(0, reference.lastIndexOf('#'))) || reference;
  const meant = new Set(references.flatMap((reference) => [reference, fileOf(reference)]));
  const whole = new Set(references);
  return problems.filter(({ place }) => meant.has(place.file) || whole.has(fileOf(place.file)));
}

/** What was read, as a table; what could not be read, and why. */
export function TableStep(props: ReadingsStepsProps) {
  const { readings, isEvaluating, evaluation, calibrationTiming, decision } = props;
  const [isWide, setWide] = useState(false);
  const doubtful = readings.filter((reading) => reading.flags.length > 0).length;
  const concerned = problemsWith(decision.captures, evaluation?.problems ?? []);
  const problems = toldOnce(concerned).map((sentence) => ({ sentence, advice: null }));
  const isRefused = readings.length === 0 && problems.length > 0;
  const mixed = mixedTiming(calibrationTiming, decision.timing);
  const isDoubtful = doubtful > 0 || mixed !== null;
  return (
    <Step
      title="What was read"
      state={stateOf(isEvaluating, isRefused, readings.length, isDoubtful)}
      summary={isRefused ? 'Nothing could be read.' : summaryOf(readings.length, doubtful)}
    >
      <DoubtNotes label="Problems" doubts={problems} />
      {mixed !== null && (
        <DoubtNotes label="Doubts about all paths" doubts={[{ sentence: `All paths: ${mixed}.`, advice: null }]} />
      )}
      <div className={own.table}>
        <ReadingsTable {...props} />
      </div>
      <div className={styles.actions}>
        <Button onPress={() => setWide(true)} isDisabled={readings.length === 0}>
          Show the table large
        </Button>
      </div>
      <Modal title="Readings" width="wide" isOpen={isWide} onClose={() => setWide(false)}>
        <div className={own.whole}>
          <ReadingsTable
            {...props}
            onAsk={(asked) => {
              setWide(false);
              props.onAsk(asked);
            }}
          />
        </div>
      </Modal>
    </Step>
  );
}

function stateOf(isEvaluating: boolean, isRefused: boolean, count: number, isDoubtful: boolean): StepState {
  if (isEvaluating) return 'working';
  if (isRefused) return 'wrong';
  if (count === 0) return 'needs';
  return isDoubtful ? 'doubt' : 'found';
}

function summaryOf(count: number, doubtful: number): string {
  if (count === 0) return 'Needs captures and a gate.';
  return `${count} readings, ${doubtful === 0 ? 'none doubtful' : `${doubtful} with a doubt`}.`;
}
