import { bareFigure, uncertaintyOf } from '../origin/figure.ts';
import { probeFigure } from '../origin/probe-figure.ts';
import { probeFigureNames, probeFigures } from '../probe/figures.ts';
import type { ProbeResult } from '../steps/probes.ts';
import { type FigureStyle, unitSign } from '../units/figure-style.ts';
import type { TextCell, TextTable } from './table-text.ts';

/** Figures down, probes across, each with its standard uncertainty beside it: as the table stands on the screen. */
export function characteristicsTable(probes: readonly ProbeResult[], style: FigureStyle): TextTable {
  const cell = (text: string): TextCell => ({ figure: text });
  return {
    head: ['Figure', 'Unit', ...probes.flatMap(({ probe }) => [probe, `u of ${probe}`, `not measurable on ${probe}`])],
    rows: probeFigureNames.map((name) => {
      const { title, unit } = probeFigures[name];
      return [
        { words: title },
        { words: unit === 'mm' ? unitSign('length', style) : unit },
        ...probes.flatMap(({ figures }): TextCell[] => {
          const { quantity, hindrances } = figures[name];
          const why = hindrances.map(({ hindrance, count }) => `${hindrance} (${count})`).join(', ');
          const written = quantity === null ? null : probeFigure(name, quantity, style);
          const u = written === null ? null : uncertaintyOf(written);
          return [
            written === null ? null : cell(bareFigure(written, style)),
            u === null ? null : cell(bareFigure(u, style)),
            why === '' ? null : { words: why },
          ];
        }),
      ];
    }),
  };
}
