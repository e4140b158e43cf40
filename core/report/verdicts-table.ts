import { judgedParts, type SummarisedVerdict } from '../check/verdict-summary.ts';
import { verdictFigure } from '../origin/decision-in-numbers.ts';
import { bareFigure, uncertaintyOf } from '../origin/figure.ts';
import { verdictWords } from '../origin/verdict-words.ts';
import { type FigureStyle, unitSign } from '../units/figure-style.ts';
import type { CaptureLookup } from './document.ts';
import type { TextCell, TextTable } from './table-text.ts';

/** Verdicts as a table for a spreadsheet: figures in the style and units given, an end that a rule does not limit empty. */
export function verdictsTable(
  verdicts: readonly SummarisedVerdict[],
  captures: CaptureLookup,
  style: FigureStyle,
): TextTable {
  const length = unitSign('length', style);
  return {
    head: [
      'verdict',
      'checked',
      'judged',
      'file',
      'trace',
      'taken',
      'measured',
      'u',
      'lower limit',
      'upper limit',
      'unit',
      'rule',
      'edition',
      'clause',
      'flags',
      'remark',
    ],
    rows: verdicts.map(({ part, judged, captureId, takenAt, verdict, limits, rule, flags, remark }) => {
      const capture = captureId === null ? undefined : captures.get(captureId);
      const measured = verdictFigure(verdict, style);
      const u = measured === null ? null : uncertaintyOf(measured);
      const end = (value: number | undefined): TextCell => {
        if (value === undefined || !Number.isFinite(value)) return null;
        const shown = verdictFigure({ measured: { value, standardUncertainty: null }, unit: verdict.unit }, style);
        return shown === null ? null : { figure: bareFigure(shown, style) };
      };
      return [
        { words: verdictWords[verdict.outcome] },
        { words: judgedParts[part] },
        { words: judged },
        words(capture?.file ?? captureId),
        words(capture?.trace ?? null),
        words(takenAt),
        measured === null ? null : { figure: bareFigure(measured, style) },
        u === null ? null : { figure: bareFigure(u, style) },
        end(limits?.lower),
        end(limits?.upper),
        { words: verdict.unit === 'mm' ? length : verdict.unit },
        { words: rule.title },
        { words: rule.edition },
        { words: verdict.clause },
        words(flags.join(' ')),
        words(remark),
      ];
    }),
  };
}

function words(text: string | null): TextCell {
  return text === null || text === '' ? null : { words: text };
}
