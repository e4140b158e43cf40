import { useCallback, useMemo, useState } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { figureTableText } from '../../core/report/figure-table.ts';
import { locationColumns } from '../../core/report/location-table.ts';
import type { TextTable } from '../../core/report/table-text.ts';
import type { PartDecision } from '../../core/review/part-decision.ts';
import type { LocatedReading, LocationResult } from '../../core/steps/locate.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { EmptyState } from '../parts/EmptyState.tsx';
import type { CaptureChoice } from '../procedures/capture-choices.ts';
import tableStyles from '../procedures/ReadingsTable.module.css';
import { shortNames } from '../procedures/reading-rows.ts';
import steps from '../procedures/Step.module.css';
import { Step, Steps } from '../procedures/Step.tsx';
import { type Expecting, expecting, withTaken } from './confirming.ts';
import { DampingStep } from './DampingStep.tsx';
import { Faults } from './Faults.tsx';
import styles from './Part.module.css';
import { problemsAt } from './part-decision.ts';
import { RowGrid } from './RowGrid.tsx';
import { nextOrder, type Order, ordered, withWords } from './rows.ts';
import { withShortDoubts } from './short-doubts.ts';
import { TableTools } from './TableTools.tsx';

export interface LocationStepsProps {
  readonly part: PartDecision | null;
  readonly onPart: (part: PartDecision) => void;
  readonly onGoToPart: () => void;
  readonly hasCalibration: boolean;
  readonly result: LocationResult | null;
  readonly choices: readonly CaptureChoice[];
  readonly selected: CaptureId | null;
  readonly selectedGate: string | null;
  readonly onSelect: (captureId: CaptureId, gate: string) => void;
  readonly onShowEcho: (captureId: CaptureId, timeUs: number) => void;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly onCopy: (table: TextTable) => Promise<boolean>;
  readonly onSave: (table: TextTable) => void;
  readonly style: FigureStyle;
}

/** Where each reading lies in the part, what of it the part's own shape may be, and what damping tells. */
export function LocationSteps(props: LocationStepsProps) {
  const { part, result, onGoToPart } = props;
  if (part === null)
    return (
      <EmptyState title="No part is described yet" actions={<Button onPress={onGoToPart}>Describe the part</Button>}>
        Thickness, probe and weld turn sound paths into places: describe them first.
      </EmptyState>
    );
  return (
    <Steps label="Location">
      <PlacesStep {...props} result={result} />
      <GeometryStep {...props} part={part} />
      <DampingStep
        part={part}
        onPart={props.onPart}
        choices={props.choices}
        result={result?.damping ?? []}
        problems={problemsAt(result?.problems ?? [], 'damping')}
        onShowEcho={props.onShowEcho}
        style={props.style}
      />
    </Steps>
  );
}

function PlacesStep(props: LocationStepsProps) {
  const { result, hasCalibration, selected, selectedGate, onSelect, asked, onAsk, onCopy, onSave, style } = props;
  const [words, setWords] = useState('');
  const [order, setOrder] = useState<Order | null>(null);
  const [narrowed, setNarrowed] = useState<Narrowed>('placed');
  const readings = result?.readings ?? noReadings;
  const all = useMemo(() => locationColumns(readings, style), [readings, style]);
  const rows = useMemo(
    () => ordered(withWords(readings.filter(keeps[narrowed]), all, words), all, order),
    [readings, all, narrowed, words, order],
  );
  const names = useMemo(() => shortNames(readings.map(({ captureId }) => captureId)), [readings]);
  const short = useCallback(
    (column: string, text: string) => (column === 'capture' ? (names.get(text) ?? text) : text),
    [names],
  );
  const isOneGate = new Set(readings.map(({ gate }) => gate)).size === 1;
  const columns = useMemo(() => withShortDoubts(all.filter(({ id }) => id !== 'gate' || !isOneGate)), [all, isOneGate]);
  const count = (which: Narrowed) => readings.filter(keeps[which]).length;
  const placed = count('placed');
  const silent = readings.filter(({ soundPathMm }) => soundPathMm === null).length;
  const faults = [...(result?.problems ?? [])].filter((one) => !problemsAt([one], 'damping').length);
  const table = () => figureTableText(rows, all, style);
  const isChosenGate = (gate: string) =>
    selectedGate === null || !readings.some((one) => one.captureId === selected && one.gate === selectedGate)
      ? true
      : gate === selectedGate;
  return (
    <Step
      title="Readings in the part"
      state={
        faults.length > 0
          ? 'wrong'
          : readings.length === 0
            ? 'needs'
            : placed + silent < readings.length
              ? 'doubt'
              : 'found'
      }
      summary={
        !hasCalibration
          ? 'Without a distance calibration no reading has a sound path: calibrate first.'
          : readings.length === 0
            ? 'Nothing has been read in the part yet: choose captures and gates in Readings.'
            : `${placed} of ${readings.length} readings have a place${silent > 0 && placed + silent === readings.length ? '; the others read no echo' : ''}`
      }
    >
      <Faults problems={faults} />
      {readings.length > 0 && (
        <div className={tableStyles.frame}>
          <TableTools
            of="places"
            words={words}
            onWords={setWords}
            rows={rows.length}
            onCopy={() => onCopy(table())}
            onSave={() => onSave(table())}
          >
            <Choice
              label="Which readings"
              hideLabel
              options={[
                { id: 'placed', label: `With a place (${placed})` },
                { id: 'expected', label: `Geometry expected (${count('expected')})` },
                { id: 'without', label: `Without a place (${count('without')})` },
                { id: 'all', label: `All readings (${readings.length})` },
              ]}
              chosen={narrowed}
              onChoose={setNarrowed}
            />
          </TableTools>
          <RowGrid
            label="Readings in the part"
            rows={rows}
            columns={columns}
            keyOf={({ captureId, gate }) => `${captureId} ${gate}`}
            short={short}
            order={order}
            onHead={(column) => setOrder(nextOrder(order, column))}
            isSelected={({ captureId, gate }) => captureId === selected && isChosenGate(gate)}
            onSelect={({ captureId, gate }) => onSelect(captureId, gate)}
            asked={asked}
            onAsk={onAsk}
            nothing={words === '' ? 'There are none of these.' : 'No reading has these words.'}
            style={style}
          />
        </div>
      )}
    </Step>
  );
}

type Narrowed = 'placed' | 'expected' | 'without' | 'all';

const keeps: Readonly<Record<Narrowed, (one: LocatedReading) => boolean>> = {
  placed: ({ place }) => place !== null,
  expected: ({ geometry }) => geometry.length > 0,
  without: ({ place }) => place === null,
  all: () => true,
};

const noReadings: readonly LocatedReading[] = [];

function GeometryStep({ part, onPart, result, onSelect }: LocationStepsProps & { readonly part: PartDecision }) {
  const groups = useMemo(() => expecting(result?.readings ?? []), [result]);
  const open = groups.filter(({ undecided }) => undecided > 0).length;
  const canExpect = (result?.expected ?? []).some(({ echoes }) => echoes.length > 0);
  return (
    <Step
      title="Geometry expected here"
      state={open > 0 ? 'doubt' : groups.length > 0 ? 'found' : 'optional'}
      word={open > 0 ? 'to be confirmed' : null}
      summary={
        groups.length > 0
          ? open > 0
            ? `${open} ${open === 1 ? 'echo waits' : 'echoes wait'} for a decision: the part’s own shape, or a reflector.`
            : 'All of them have been decided.'
          : canExpect
            ? 'No reading lies where the part’s own shape would echo.'
            : 'No echo of the part’s own shape can be foretold: it needs the weld, the probe’s place, its element and frequency.'
      }
      isOpenAtFirst={groups.length > 0}
    >
      <ul className={styles.groups}>
        {groups.map((group) => (
          <ExpectingGroup
            key={`${group.gate} ${group.name} ${group.leg}`}
            group={group}
            onTaken={(taken) => onPart(withTaken(part, group.readings, taken))}
            onShow={() => {
              const highest = group.readings.toSorted(
                (a, b) => (b.amplitudePercent ?? 0) - (a.amplitudePercent ?? 0),
              )[0];
              if (highest !== undefined) onSelect(highest.captureId, highest.gate);
            }}
          />
        ))}
      </ul>
    </Step>
  );
}

function ExpectingGroup({
  group,
  onTaken,
  onShow,
}: {
  readonly group: Expecting;
  readonly onTaken: (taken: 'reflector' | 'geometry' | null) => void;
  readonly onShow: () => void;
}) {
  const { gate, name, readings, taken, undecided, sentence } = group;
  const count = readings.length === 1 ? '1 reading' : `${readings.length} readings`;
  const state =
    taken !== null
      ? `taken for ${taken === 'geometry' ? 'geometry' : 'a reflector'}`
      : undecided === readings.length
        ? 'not decided'
        : `${undecided} not decided, the others differ`;
  return (
    <li className={styles.expecting} data-open={undecided > 0}>
      <p>
        <strong>{name}</strong>
        <span className={styles.aside}>
          {count} of gate {gate} · {state}
        </span>
      </p>
      <p className={steps.note}>{sentence}</p>
      <div className={steps.actions}>
        <Button small aria-pressed={taken === 'geometry'} onPress={() => onTaken('geometry')}>
          It is geometry
        </Button>
        <Button small aria-pressed={taken === 'reflector'} onPress={() => onTaken('reflector')}>
          It is a reflector
        </Button>
        {undecided < readings.length && (
          <Button small kind="quiet" onPress={() => onTaken(null)}>
            Not decided
          </Button>
        )}
        <Button small kind="quiet" onPress={onShow}>
          Show the highest
        </Button>
      </div>
    </li>
  );
}
