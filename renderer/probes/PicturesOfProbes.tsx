import { type ReactNode, useDeferredValue, useMemo, useState } from 'react';
import { spectrumOverlay, type TimeOverlay, timeOverlay } from '../../core/compare/overlays.ts';
import type { TimeFrequencyMethod } from '../../core/compare/time-frequency-picture.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { ProbesResult } from '../../core/steps/probes.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import { inWords } from '../audit/figure-words.ts';
import type { Engine } from '../engine/engine.ts';
import { fileStem } from '../host/file-stem.ts';
import type { Host } from '../host/host.ts';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { EmptyState } from '../parts/EmptyState.tsx';
import { onScreen } from '../parts/on-screen.ts';
import { useWorkbench } from '../state/workbench.ts';
import { FigureView } from './FigureView.tsx';
import {
  attenuationFigure,
  differenceFigure,
  manyInTime,
  manySpectra,
  spectrumFigure,
  stylesOf,
  timeFigure,
  timeFrequencyFigure,
} from './figures-of-probes.ts';
import styles from './Pictures.module.css';
import type { PlotFigure } from './plot-figure.ts';
import { SaveFigure } from './SaveFigure.tsx';
import { TablePanel } from './TablePanel.tsx';
import { useTimeFrequency } from './use-time-frequency.ts';

export type ShownPicture = 'table' | 'time' | 'spectrum' | 'difference' | 'many' | 'time-frequency';

const kinds: readonly { readonly id: ShownPicture; readonly label: string }[] = [
  { id: 'table', label: 'Table' },
  { id: 'time', label: 'Time' },
  { id: 'spectrum', label: 'Spectra' },
  { id: 'difference', label: 'Difference' },
  { id: 'many', label: 'One by one' },
  { id: 'time-frequency', label: 'Time–frequency' },
];

/** So many lie over one another and can still be told apart. */
const mostOver = 8;
/** So many are named in a sentence below a picture. */
const mostNamed = 4;
/** So many stand beside one another on one page. */
const mostBeside = 40;
/** What stands below the trace while probes or a material are looked at. */
export function PicturesOfProbes({
  procedure,
  first = procedure === 'probes' ? 'table' : 'time',
  engine,
  host,
}: {
  readonly procedure: 'probes' | 'comparison' | 'material';
  /** What stands here before anything was chosen. */
  readonly first?: ShownPicture;
  readonly engine: Engine;
  readonly host: Host;
}) {
  return procedure === 'material' ? (
    <MaterialPicture host={host} />
  ) : (
    <ProbePictures key={procedure} first={first} engine={engine} host={host} />
  );
}

function useEvaluation() {
  return useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
}

function MaterialPicture({ host }: { readonly host: Host }) {
  const result = useEvaluation()?.material ?? null;
  const style = useWorkbench((workbench) => workbench.style);
  const title = useWorkbench(({ name, review }) => name ?? review.title);
  const figure = useMemo(() => (result === null ? null : attenuationFigure(result, style)), [result, style]);
  return (
    <section className={styles.panel} aria-label="Attenuation over frequency">
      {figure === null || result === null ? (
        <EmptyState title="No attenuation yet">
          {result === null
            ? 'State the thickness and the windows of two back-wall echoes in Material.'
            : (result.captures.find(({ withoutAttenuation }) => withoutAttenuation !== null)?.withoutAttenuation ??
              'There is no band in which the ratio of the spectra means something.')}
        </EmptyState>
      ) : (
        <>
          <div className={styles.head}>
            <h2>Attenuation over frequency</h2>
            <SaveFigure figure={figure} name={`${fileStem(title)}-attenuation`} host={host} style={style} />
          </div>
          <FigureView figure={figure} style={style} />
        </>
      )}
    </section>
  );
}

function ProbePictures({
  first,
  engine,
  host,
}: {
  readonly first: ShownPicture;
  readonly engine: Engine;
  readonly host: Host;
}) {
  const result = useEvaluation()?.probes ?? null;
  const [kind, setKind] = useState<ShownPicture>(first);
  if (result === null || result.probes.length === 0)
    return (
      <section className={styles.panel} aria-label="Probes">
        <EmptyState title="No probes yet">
          Choose captures and a gate in Probes; their figures and pictures stand here.
        </EmptyState>
      </section>
    );
  const chosen = <Toggle label="What stands here" hideLabel options={kinds} chosen={kind} onChoose={setKind} />;
  if (kind === 'table') return <TablePanel result={result} host={host} choice={chosen} />;
  return <PicturePanel result={result} kind={kind} engine={engine} host={host} choice={chosen} />;
}

interface Pictured {
  readonly figure: PlotFigure | null;
  /** What must be said beside it, or in its place. */
  readonly sentences: readonly string[];
}

function PicturePanel({
  result,
  kind,
  engine,
  host,
  choice,
}: {
  readonly result: ProbesResult;
  readonly kind: Exclude<ShownPicture, 'table'>;
  readonly engine: Engine;
  readonly host: Host;
  readonly choice: ReactNode;
}) {
  const style = useWorkbench((workbench) => workbench.style);
  const title = useWorkbench(({ name, review }) => name ?? review.title);
  const normalised = useWorkbench(({ evaluationOf, review }) => (evaluationOf ?? review).probes?.normalised ?? true);
  const captures = useWorkbench((workbench) => workbench.captures);
  const selected = useWorkbench((workbench) => workbench.selected);
  const [wanted, setWanted] = useState<string | null>(null);
  const [manyOf, setManyOf] = useState<'time' | 'spectrum'>('time');
  const [page, setPage] = useState(0);
  const [method, setMethod] = useState<TimeFrequencyMethod>('spectrogram');

  const { probes, reference } = result;
  const names = useMemo(() => probes.map(({ probe }) => probe), [probes]);
  const others = names.filter((name) => name !== reference);
  const probe = wanted !== null && names.includes(wanted) ? wanted : null;
  const styleOf = useMemo(() => stylesOf(probes), [probes]);
  const shown = useMemo(
    () =>
      new Set([...(reference === null ? [] : [reference]), ...(probe === null ? names : [probe])].slice(0, mostOver)),
    [names, reference, probe],
  );
  const overTime = useMemo(() => timeOverlay(result, normalised), [result, normalised]);
  const overFrequency = useMemo(
    () => spectrumOverlay(result, normalised, (id) => captures.get(id)?.gainDb ?? null),
    [result, normalised, captures],
  );
  const captureId = probes.some(({ captureIds }) => selected !== null && captureIds.includes(selected))
    ? selected
    : (probes.find((each) => each.probe === (probe ?? reference))?.shownBy ??
      probes.find(({ shownBy }) => shownBy !== null)?.shownBy ??
      null);
  const overBoth = useTimeFrequency(engine, kind === 'time-frequency' ? captureId : null, result, method);

  const count = overTime.lines.length;
  const pages = Array.from({ length: Math.ceil(count / mostBeside) }, (_, i) => ({
    id: String(i),
    label: `${i * mostBeside + 1} to ${Math.min(count, (i + 1) * mostBeside)} of ${count}`,
  }));

  const pictured = ((): Pictured => {
    const missing = overTime.without.length === 0 ? [] : [`Nothing to draw of ${someOf(overTime.without)}.`];
    switch (kind) {
      case 'time':
        return {
          figure: overTime.lines.length === 0 ? null : timeFigure(overTime, shown, styleOf),
          sentences: [shiftsInWords(overTime, shown, style), ...tooMany(names.length, probe, shown.size), ...missing],
        };
      case 'spectrum':
        return {
          figure: overFrequency.lines.length === 0 ? null : spectrumFigure(overFrequency, shown, styleOf),
          sentences: [
            overFrequency.zeroOf === null
              ? 'Each to its own highest line.'
              : `0 dB: the highest line of ${overFrequency.zeroOf}.`,
            onScreen(`${result.spectrum.charAt(0).toUpperCase()}${result.spectrum.slice(1)}.`),
            ...(normalised || overFrequency.gainsKnown
              ? []
              : ['A gain is not stated: all count as taken at one gain.']),
            ...tooMany(names.length, probe, shown.size),
            ...missing,
          ],
        };
      case 'difference': {
        const of = probe !== null && probe !== reference ? probe : (others[0] ?? null);
        const time = probes.find((each) => each.probe === of)?.comparison?.time ?? null;
        return {
          figure: of === null ? null : differenceFigure(result, of, normalised, styleOf),
          sentences:
            reference === null
              ? ['Choose a reference probe in Comparison: the others are held against it.']
              : of === null
                ? ['There is no other probe to hold against the reference.']
                : time === null
                  ? [`There are no curves of both ${of} and ${reference}.`]
                  : [
                      `Root mean square of the difference: ${formatNumber(100 * time.relativeRms, 1, style)} % of the reference’s.`,
                      'By frequency only where both stand clear of their noise and within 20 dB of their peaks.',
                    ],
        };
      }
      case 'many': {
        const all = manyOf === 'time' ? overTime.lines.length : overFrequency.lines.length;
        const from = Math.min(page, Math.max(0, pages.length - 1)) * mostBeside;
        const to = Math.min(all, from + mostBeside);
        const across = acrossFor(to - from);
        return {
          figure:
            all === 0
              ? null
              : manyOf === 'time'
                ? manyInTime(overTime, { from, to }, across)
                : manySpectra(overFrequency, reference, { from, to }, across),
          sentences: [...(reference === null ? [] : [`Thin: ${reference}.`]), ...missing],
        };
      }
      case 'time-frequency':
        return {
          figure:
            captureId === null || overBoth === null || !overBoth.ok
              ? null
              : timeFrequencyFigure(overBoth.value, captureId),
          sentences:
            captureId === null
              ? ['No capture of these probes could be measured.']
              : overBoth === null
                ? ['Working …']
                : overBoth.ok
                  ? [
                      `${captureId.replace(/#[^#]*$/, '')}. ${overBoth.value.method}. The gate and half its length on either side.`,
                    ]
                  : overBoth.problems.map(({ sentence }) => sentence),
        };
    }
  })();
  const { figure, sentences } = pictured;

  return (
    <section className={styles.panel} aria-label="Pictures of the probes">
      <div className={styles.head}>
        {choice}
        {kind === 'many' && (
          <Toggle
            label="Of what"
            hideLabel
            options={[
              { id: 'time', label: 'Echoes' },
              { id: 'spectrum', label: 'Spectra' },
            ]}
            chosen={manyOf}
            onChoose={setManyOf}
          />
        )}
        {kind === 'many' && pages.length > 1 && (
          <Choice
            label="Probes in sight"
            hideLabel
            options={pages}
            chosen={String(page)}
            onChoose={(id) => setPage(Number(id))}
          />
        )}
        {kind === 'time-frequency' && (
          <Toggle
            label="Method"
            hideLabel
            options={[
              { id: 'spectrogram', label: 'Spectrogram' },
              { id: 'scalogram', label: 'Scalogram' },
            ]}
            chosen={method}
            onChoose={setMethod}
          />
        )}
        {(kind === 'time' || kind === 'spectrum' || kind === 'difference') && names.length > 2 && (
          <Choice
            label="Probe in sight"
            hideLabel
            options={[
              ...(kind === 'difference'
                ? []
                : [{ id: allProbes, label: names.length > mostOver ? `The first ${mostOver} probes` : 'All probes' }]),
              ...(kind === 'difference' || reference !== null ? others : names).map((id) => ({ id, label: id })),
            ]}
            chosen={
              kind === 'difference'
                ? probe !== null && probe !== reference
                  ? probe
                  : (others[0] ?? null)
                : (probe ?? allProbes)
            }
            onChoose={(id) => setWanted(id === allProbes ? null : id)}
          />
        )}
        {figure !== null && (
          <SaveFigure figure={figure} name={`${fileStem(title)}-${kind}`} host={host} style={style} />
        )}
      </div>
      {figure === null ? (
        <EmptyState title="Nothing to draw">{sentences.filter(Boolean).join(' ')}</EmptyState>
      ) : (
        <>
          <FigureView figure={figure} style={style} />
          <p className={styles.words}>{sentences.filter(Boolean).join(' ')}</p>
        </>
      )}
    </section>
  );
}

const allProbes = 'all probes';

/** Few stand wide, many small. */
function acrossFor(count: number): number {
  if (count <= 4) return Math.max(1, count);
  return count <= 9 ? 3 : count <= 20 ? 4 : 5;
}

function tooMany(count: number, probe: string | null, shown: number): string[] {
  return probe === null && count > shown ? [`${shown} of ${count} probes lie here; One by one shows more.`] : [];
}

/** The first few of a list that may be long. */
function someOf(words: readonly string[]): string {
  return words.length <= mostNamed
    ? words.join(', ')
    : `${words.slice(0, mostNamed - 1).join(', ')} and ${words.length - mostNamed + 1} more`;
}

/** How far each was moved to lie on the reference. */
function shiftsInWords({ reference, lines }: TimeOverlay, shown: ReadonlySet<string>, style: FigureStyle): string {
  if (reference === null) return 'No reference probe: each counts from its own envelope’s peak.';
  const moved = lines.filter(({ probe }) => probe !== reference && shown.has(probe));
  if (moved.length === 0) return '';
  const words = moved.map(({ probe, shiftUs, correlation }) => {
    const by = inWords(figureWords(figures.timeUs(shiftUs, style), style));
    return `${probe} ${by}${correlation === null ? '' : ` (correlation ${inWords(formatNumber(correlation, 2, style))})`}`;
  });
  return `Times of ${reference}. Shifts taken out: ${someOf(words)}.`;
}
