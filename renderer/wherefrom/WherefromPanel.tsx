import { type RefObject, useEffect, useId, useRef, useState } from 'react';
import type { FigureAsked, FormulaShown, Origin, OriginInput } from '../../core/origin.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import { formulaParts } from './formula-parts.ts';
import { MiniTrace, type MiniTraceShown } from './MiniTrace.tsx';
import styles from './WherefromPanel.module.css';

/** A step on the way here. */
export interface TrailStep {
  readonly title: string;
  readonly value: string;
}

export interface WherefromPanelProps {
  /** `null`: what was asked is no longer there. */
  readonly origin: Origin | null;
  /** The steps before this one, the first asked first. */
  readonly trail: readonly TrailStep[];
  /** Back to a step of the trail. */
  readonly onBack: (index: number) => void;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly onClose: () => void;
  /** Shows the samples on the trace; `null` where there are none, or their capture is not there. */
  readonly onShow: (() => void) | null;
  readonly trace: MiniTraceShown | null;
  /** The results are being worked out anew. */
  readonly isStale: boolean;
}

/** Where a figure comes from: the value, the formula with its numbers, and each of these to be asked in turn, down to the samples. */
export function WherefromPanel(props: WherefromPanelProps) {
  const { origin, trail, onBack, onClose } = props;
  const heading = useRef<HTMLHeadingElement>(null);
  const id = useId();
  // Each figure is read from its beginning, and the keyboard goes along.
  // biome-ignore lint/correctness/useExhaustiveDependencies: for every figure anew
  useEffect(() => {
    heading.current?.focus({ preventScroll: true });
  }, [origin?.title, trail.length]);
  const panel = useRef<HTMLDivElement>(null);
  useEscapeWithin(panel, onClose);
  return (
    <div
      ref={panel}
      role="dialog"
      aria-labelledby={id}
      className={styles.panel}
      onKeyDown={(event) => {
        if ((event.key === 'Backspace' || (event.key === 'ArrowLeft' && event.altKey)) && trail.length > 0) {
          event.preventDefault();
          onBack(trail.length - 1);
        }
      }}
    >
      <header className={styles.head}>
        {trail.length > 0 && (
          <IconButton icon="chevron-left" label="Back" keyShown="Backspace" onPress={() => onBack(trail.length - 1)} />
        )}
        <h2 id={id} ref={heading} tabIndex={-1}>
          Where from?
        </h2>
        <IconButton icon="close" label="Close" keyShown="Esc" onPress={onClose} />
      </header>
      <div className={styles.body}>
        <TrailList {...props} />
        {origin === null ? (
          <p>This figure is no longer there: what it was made from has changed.</p>
        ) : (
          <Told key={`${trail.length} ${origin.title}`} {...props} origin={origin} />
        )}
      </div>
    </div>
  );
}

/** Heard before anything else: a button's hint would take the first Escape for itself. */
function useEscapeWithin(panel: RefObject<HTMLElement | null>, onEscape: () => void): void {
  const latest = useRef(onEscape);
  useEffect(() => {
    latest.current = onEscape;
  });
  useEffect(() => {
    const hear = (event: KeyboardEvent) => {
      if (event.key !== 'Escape' || panel.current?.contains(document.activeElement) !== true) return;
      event.stopPropagation();
      latest.current();
    };
    window.addEventListener('keydown', hear, true);
    return () => window.removeEventListener('keydown', hear, true);
  }, [panel]);
}

function TrailList({ trail, onBack }: WherefromPanelProps) {
  if (trail.length === 0) return null;
  return (
    <ol className={styles.trail} aria-label="The way here">
      {trail.map(({ title, value }, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a step is its place on the way
        <li key={i} style={{ paddingLeft: `${Math.min(i, 6) * 0.875}rem` }}>
          <button type="button" onClick={() => onBack(i)}>
            {i > 0 && <span className={styles.elbow} aria-hidden="true" />}
            <span className={styles.unseen}>Back to </span>
            <span>{title}</span> <span className={styles.was}>{value}</span>
          </button>
        </li>
      ))}
    </ol>
  );
}

function Told(props: WherefromPanelProps & { readonly origin: Origin }) {
  const { origin, isStale, onAsk } = props;
  const [pointed, setPointed] = useState<number | null>(null);
  return (
    <>
      <p className={styles.title}>
        {origin.title}
        {origin.capture !== null && <span className={styles.of}>{origin.capture.captureId}</span>}
      </p>
      <p className={styles.value}>{origin.value}</p>
      <p className={styles.uncertainty}>{origin.uncertainty ?? withoutUncertainty(origin.value)}</p>
      {isStale && <p className={styles.words}>The results are being worked out anew.</p>}
      <div className={origin.flags.length > 0 ? styles.section : undefined}>
        <DoubtNotes label="Doubts about this figure" doubts={origin.flags} />
      </div>
      {origin.formula !== null && (
        <section className={styles.section} aria-label="Formula">
          <h3>How it is worked out</h3>
          <Formula
            formula={origin.formula}
            inputs={origin.inputs}
            pointed={pointed}
            onPoint={setPointed}
            onAsk={onAsk}
          />
          {origin.uncertaintyFormula !== null && (
            <details className={styles.more}>
              <summary>How sure it is</summary>
              <Formula
                formula={origin.uncertaintyFormula}
                inputs={[]}
                pointed={null}
                onPoint={() => {}}
                onAsk={onAsk}
              />
            </details>
          )}
        </section>
      )}
      {origin.inputs.length > 0 && (
        <section className={styles.section} aria-label="Made from">
          <h3>Made from</h3>
          <ul className={styles.inputs}>
            {origin.inputs.map((input, i) => (
              <li key={input.name}>
                <Input
                  input={input}
                  isPointed={pointed === i}
                  onPoint={(on) => setPointed(on ? i : null)}
                  onAsk={onAsk}
                />
              </li>
            ))}
          </ul>
        </section>
      )}
      {origin.capture !== null && <Samples {...props} capture={origin.capture} />}
      <section className={styles.section} aria-label="Source">
        <h3>Source</h3>
        <p className={styles.source}>{origin.source}</p>
      </section>
    </>
  );
}

/** A verdict is no number: there is nothing to be sure of to so many digits. */
function withoutUncertainty(value: string): string {
  if (value === '–') return 'It could not be read.';
  return /\d/.test(value) ? 'No uncertainty is known.' : '';
}

/** In words, then with its numbers; a number that is an input leads to where that came from. */
function Formula({
  formula,
  inputs,
  pointed,
  onPoint,
  onAsk,
}: {
  readonly formula: FormulaShown;
  readonly inputs: readonly OriginInput[];
  readonly pointed: number | null;
  readonly onPoint: (input: number | null) => void;
  readonly onAsk: (asked: FigureAsked) => void;
}) {
  return (
    <div className={styles.formula}>
      <p className={styles.words}>{formula.text}</p>
      {formula.withNumbers.split(/\n|; /).map((line) => (
        <p key={line} className={styles.numbers}>
          {formulaParts(line, inputs).map(({ text, input }, i) => {
            const asked = input === null ? null : (inputs[input]?.asked ?? null);
            const key = `${i} ${text}`;
            if (input === null) return <Plain key={key} text={text} />;
            const mark = input === pointed ? styles.pointed : '';
            if (asked === null) {
              return (
                <span key={key} className={[styles.plainNumber, mark].join(' ')}>
                  {text}
                </span>
              );
            }
            return (
              <button
                key={key}
                type="button"
                className={[styles.number, mark].join(' ')}
                aria-label={`${inputs[input]?.name} ${text}. Where from?`}
                onPointerEnter={() => onPoint(input)}
                onPointerLeave={() => onPoint(null)}
                onClick={() => onAsk(asked)}
              >
                {text}
              </button>
            );
          })}
        </p>
      ))}
    </div>
  );
}

/** What stands between the numbers; the result at the end stands out. */
function Plain({ text: given }: { readonly text: string }) {
  const text = given.replace(/(\d) (?=mm|in|µs|m\/s|dB|%)/g, '$1\u00a0');
  const at = text.lastIndexOf(' = ');
  if (at < 0) return <span>{text}</span>;
  return (
    <>
      <span>{text.slice(0, at)} </span>
      <span className={styles.result}>= {text.slice(at + 3)}</span>
    </>
  );
}

/** A longer value is a sentence, and begins where sentences begin. */
const mostInOneLine = 36;

function Input({
  input,
  isPointed,
  onPoint,
  onAsk,
}: {
  readonly input: OriginInput;
  readonly isPointed: boolean;
  readonly onPoint: (on: boolean) => void;
  readonly onAsk: (asked: FigureAsked) => void;
}) {
  const { name, value, asked } = input;
  const length = value.length > mostInOneLine ? styles.long : '';
  const inside = (
    <>
      <span className={styles.inputName}>{name}</span>{' '}
      <span className={[styles.inputValue, length].join(' ')}>{value}</span>
      {asked !== null && <span className={styles.unseen}>. Where from?</span>}
    </>
  );
  if (asked === null)
    return <div className={[styles.input, isPointed ? styles.pointedRow : ''].join(' ')}>{inside}</div>;
  return (
    <button
      type="button"
      className={[styles.input, styles.asks, isPointed ? styles.pointedRow : ''].join(' ')}
      onPointerEnter={() => onPoint(true)}
      onPointerLeave={() => onPoint(false)}
      onFocus={() => onPoint(true)}
      onBlur={() => onPoint(false)}
      onClick={() => onAsk(asked)}
    >
      {inside}
    </button>
  );
}

function Samples({
  capture,
  trace,
  onShow,
}: WherefromPanelProps & { readonly capture: NonNullable<Origin['capture']> }) {
  const { captureId, samples } = capture;
  const range = samples === null ? 'the whole capture' : `samples ${samples.first} to ${samples.last}`;
  return (
    <section className={styles.section} aria-label="Samples">
      <h3>Read from</h3>
      {trace !== null && <MiniTrace shown={trace} label={`The trace about ${range}`} />}
      <div className={styles.where}>
        <span>
          {captureId}, {range}
        </span>
        {onShow !== null && (
          <Button small onPress={onShow}>
            Show on the trace
          </Button>
        )}
      </div>
    </section>
  );
}
