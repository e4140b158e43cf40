import { useMemo, useState } from 'react';
import type { FigureAsked } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import { figureTableText } from '../../core/report/figure-table.ts';
import { indicationColumns } from '../../core/report/indications-table.ts';
import type { TextTable } from '../../core/report/table-text.ts';
import type { Indication, ScanResult } from '../../core/steps/scan.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import tableStyles from '../procedures/ReadingsTable.module.css';
import steps from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { Faults } from './Faults.tsx';
import { RowGrid } from './RowGrid.tsx';
import { nextOrder, type Order, ordered, withWords } from './rows.ts';
import { withShortDoubts } from './short-doubts.ts';
import { TableTools } from './TableTools.tsx';

interface IndicationsStepProps {
  readonly result: ScanResult | null;
  readonly problems: readonly Problem[];
  readonly isEvaluating: boolean;
  readonly chosen: string | null;
  readonly onChoose: (name: string) => void;
  readonly onTakeAllUp: () => void;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly onCopy: (table: TextTable) => Promise<boolean>;
  readonly onSave: (table: TextTable) => void;
  readonly style: FigureStyle;
}

type Narrowed = 'all' | 'proposed' | 'reflector' | 'geometry' | 'doubtful';

const keeps: Readonly<Record<Narrowed, (one: Indication) => boolean>> = {
  all: () => true,
  proposed: ({ decided }) => !decided,
  reflector: ({ taken }) => taken === 'reflector',
  geometry: ({ taken }) => taken === 'geometry',
  doubtful: ({ flags }) => flags.length > 0,
};

/** All indications of the scan in a table. */
export function IndicationsStep(props: IndicationsStepProps) {
  const { result, problems, isEvaluating, chosen, onChoose, onTakeAllUp, asked, onAsk, onCopy, onSave, style } = props;
  const [words, setWords] = useState('');
  const [narrowed, setNarrowed] = useState<Narrowed>('all');
  const [order, setOrder] = useState<Order | null>(null);
  const indications = result?.indications ?? none;
  const all = useMemo(() => indicationColumns(indications, style), [indications, style]);
  const columns = useMemo(() => withShortDoubts(all), [all]);
  const rows = useMemo(
    () => ordered(withWords(indications.filter(keeps[narrowed]), columns, words), columns, order),
    [indications, columns, narrowed, words, order],
  );
  const proposed = indications.filter(keeps.proposed).length;
  const count = (which: Narrowed) => indications.filter(keeps[which]).length;
  const isLooked = (result?.problems ?? []).length === 0 || (result?.lines ?? []).length > 0;
  const table = () => figureTableText(rows, all, style);
  return (
    <Step
      title="Indications"
      state={
        result === null
          ? 'working'
          : problems.length > 0
            ? 'wrong'
            : proposed > 0
              ? 'needs'
              : indications.length > 0
                ? 'found'
                : 'optional'
      }
      word={proposed > 0 ? `${proposed} proposed` : null}
      summary={
        result === null && isEvaluating
          ? 'Being looked for …'
          : indications.length === 0
            ? problems.length > 0 || !isLooked
              ? 'Nothing could be looked for.'
              : 'Nothing stands above the level.'
            : `${indications.length} in all, ${indications.length - proposed} taken up`
      }
    >
      <Faults problems={problems} />
      {indications.length > 0 && (
        <div className={tableStyles.frame}>
          <TableTools
            of="indications"
            words={words}
            onWords={setWords}
            rows={rows.length}
            onCopy={() => onCopy(table())}
            onSave={() => onSave(table())}
          >
            <Choice
              label="Which indications"
              hideLabel
              options={[
                { id: 'all', label: 'All indications' },
                { id: 'proposed', label: `Proposed (${proposed})` },
                { id: 'reflector', label: `Taken for reflectors (${count('reflector')})` },
                { id: 'geometry', label: `Taken for geometry (${count('geometry')})` },
                { id: 'doubtful', label: `With a doubt (${count('doubtful')})` },
              ]}
              chosen={narrowed}
              onChoose={setNarrowed}
            />
          </TableTools>
          <RowGrid
            label="Indications"
            rows={rows}
            columns={columns}
            keyOf={({ name }) => name}
            order={order}
            onHead={(column) => setOrder(nextOrder(order, column))}
            isSelected={({ name }) => name === chosen}
            onSelect={({ name }) => onChoose(name)}
            asked={asked}
            onAsk={onAsk}
            nothing="No indication has these words."
            style={style}
          />
        </div>
      )}
      {proposed > 0 && (
        <div className={steps.actions}>
          <Button small onPress={onTakeAllUp}>
            Take up all {proposed} proposals
          </Button>
        </div>
      )}
      {(result?.remarks ?? []).map((remark) => (
        <p key={remark} className={steps.note}>
          {remark}
        </p>
      ))}
    </Step>
  );
}

const none: readonly Indication[] = [];
