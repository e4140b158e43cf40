import { useState } from 'react';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { OfProbe } from '../../core/review/probes-decision.ts';
import { WindowFields } from '../audit/CheckSteps.tsx';
import { isGiven } from '../audit/linearity-decision.ts';
import { Button } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import styles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import type { OfProbes } from './ProbesSteps.tsx';
import { namesOf } from './probe-names.ts';
import { windowOf, windowOptions, withProbe } from './probes-decision.ts';

/** The gate that holds one echo of every probe, and how its spectrum is made. */
export function EchoStep(of: OfProbes) {
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
function OwnGates(of: OfProbes) {
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
