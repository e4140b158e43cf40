import { Fragment, type KeyboardEvent, useMemo, useState } from 'react';
import { figureWithUncertainty } from '../../core/origin/figure.ts';
import { probeFigure } from '../../core/origin/probe-figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { bestIn } from '../../core/probe/characteristics.ts';
import { type ProbeFigure, probeFigureNames, probeFigures } from '../../core/probe/figures.ts';
import { hindranceTexts } from '../../core/probe/hindrance.ts';
import type { ProbeResult, ProbesResult } from '../../core/steps/probes.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { isSame } from '../audit/asked.ts';
import { inWords } from '../audit/figure-words.ts';
import { VerdictSign } from '../audit/VerdictSign.tsx';
import { Figure } from '../parts/Figure.tsx';
import { Icon } from '../parts/Icon.tsx';
import styles from './CharacteristicsTable.module.css';

/** Where a new part of the table begins. */
const partsFrom: Readonly<Partial<Record<ProbeFigure, string>>> = {
  'peak-frequency': 'Frequency and band',
  'duration-e1065-14-db': 'Pulse',
  height: 'Level',
  'near-field': 'Beam',
};

/** Figures down, probes across, each the mean of its captures with its standard uncertainty. */
export function CharacteristicsTable({
  result,
  shown,
  onAsk,
  asked,
  onSelect,
  style,
}: {
  readonly result: ProbesResult;
  /** The probes in sight. */
  readonly shown: readonly ProbeResult[];
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
  readonly onSelect: (captureId: string) => void;
  readonly style: FigureStyle;
}) {
  const [at, setAt] = useState({ row: 0, column: 0 });
  const best = useMemo(
    () => new Map(probeFigureNames.map((name) => [name, bestIn(name, result.probes)])),
    [result.probes],
  );
  const row = Math.min(at.row, probeFigureNames.length - 1);
  const column = Math.min(at.column, shown.length - 1);

  function move(event: KeyboardEvent<HTMLTableElement>): void {
    const step = steps[event.key];
    if (step === undefined) return;
    event.preventDefault();
    const next = {
      row: Math.min(probeFigureNames.length - 1, Math.max(0, row + step[0])),
      column: Math.min(shown.length - 1, Math.max(0, column + step[1])),
    };
    setAt(next);
    const cell = event.currentTarget.querySelector<HTMLElement>(`[data-cell="${next.row} ${next.column}"]`);
    (cell?.querySelector('button') ?? cell)?.focus();
  }

  return (
    // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: a table whose cells are moved between by the arrow keys is a grid
    <table className={styles.table} role="grid" aria-label="Characteristics of the probes" onKeyDown={move}>
      <thead>
        <tr>
          <th scope="col" className={styles.corner}>
            Mean ± u
          </th>
          {shown.map((probe) => (
            <th key={probe.probe} scope="col">
              <span className={styles.probe}>{probe.probe}</span>
              <span className={styles.soft}>
                {capturesOf(probe)}
                {probe.probe === result.reference && ' · reference'}
              </span>
              {probe.shownBy !== null && (
                <button
                  type="button"
                  className={styles.show}
                  tabIndex={-1}
                  aria-label={`Show a capture of ${probe.probe} on the trace`}
                  onClick={() => onSelect(probe.shownBy ?? '')}
                >
                  show
                </button>
              )}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {probeFigureNames.map((name, i) => {
          const part = partsFrom[name];
          const { title, unit } = probeFigures[name];
          return (
            <Fragment key={name}>
              {part !== undefined && (
                <tr className={styles.part}>
                  <th scope="colgroup" colSpan={shown.length + 1}>
                    <span>{part}</span>
                  </th>
                </tr>
              )}
              <tr>
                <th scope="row" title={probeFigures[name].definition}>
                  {title}
                  {unit !== '' && (
                    <span className={styles.soft}> {unit === 'mm' ? unitSign('length', style) : unit}</span>
                  )}
                </th>
                {shown.map((probe, j) => (
                  <td
                    key={probe.probe}
                    data-cell={`${i} ${j}`}
                    tabIndex={probe.figures[name].quantity === null ? (i === row && j === column ? 0 : -1) : undefined}
                    onFocus={() => setAt({ row: i, column: j })}
                  >
                    <Cell
                      name={name}
                      probe={probe}
                      isBest={best.get(name) === probe.probe}
                      onAsk={onAsk}
                      asked={asked}
                      tabIndex={i === row && j === column ? 0 : -1}
                      style={style}
                    />
                  </td>
                ))}
              </tr>
            </Fragment>
          );
        })}
      </tbody>
    </table>
  );
}

const steps: Readonly<Record<string, readonly [number, number]>> = {
  ArrowDown: [1, 0],
  ArrowUp: [-1, 0],
  ArrowRight: [0, 1],
  ArrowLeft: [0, -1],
  Home: [0, -10_000],
  End: [0, 10_000],
  PageDown: [10, 0],
  PageUp: [-10, 0],
};

function capturesOf({ captureIds }: ProbeResult): string {
  return captureIds.length === 1 ? '1 capture, u by noise' : `${captureIds.length} captures`;
}

function Cell({
  name,
  probe,
  isBest,
  onAsk,
  asked,
  tabIndex,
  style,
}: {
  readonly name: ProbeFigure;
  readonly probe: ProbeResult;
  readonly isBest: boolean;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
  readonly tabIndex: number;
  readonly style: FigureStyle;
}) {
  const { quantity, hindrances, sample } = probe.figures[name];
  const { title, unit } = probeFigures[name];
  if (quantity === null)
    return (
      <span className={styles.none}>
        not measurable
        <span className={styles.reason}>
          {hindrances.map(({ hindrance }) => firstClause(hindranceTexts[hindrance])).join('; ')}
        </span>
      </span>
    );
  const figureAsked: FigureAsked = { kind: 'probe', of: 'mean', probe: probe.probe, figure: name };
  const text = figureWithUncertainty(probeFigure(name, quantity, style), style);
  const stated = probe.stated.find(({ figure }) => figure === name) ?? null;
  const missed = hindrances.reduce((sum, { count }) => sum + count, 0);
  return (
    <span className={styles.cell}>
      <Figure
        name={`${title}, ${probe.probe}`}
        text={inWords(bare(text, unit === 'mm' ? unitSign('length', style) : unit))}
        asked={figureAsked}
        onAsk={onAsk}
        isAsked={isSame(asked, figureAsked)}
        tabIndex={tabIndex}
      />
      {isBest && (
        <span className={styles.best}>
          <Icon name="above" />
          best
        </span>
      )}
      {stated?.verdict != null && <VerdictSign outcome={stated.verdict.outcome} />}
      {missed > 0 && sample !== null && (
        <span className={styles.reason}>
          {sample.count} of {sample.count + missed} captures
        </span>
      )}
    </span>
  );
}

/** The unit stands with the row’s name. */
function bare(text: string, unit: string): string {
  return unit !== '' && text.endsWith(unit) ? text.slice(0, -unit.length).trim() : text;
}

function firstClause(sentence: string): string {
  return sentence.split(/[;:]/)[0]!.replace(/\.$/, '');
}
