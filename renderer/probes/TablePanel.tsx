import { type ReactNode, useState } from 'react';
import { characteristicsTable } from '../../core/report/characteristics-table.ts';
import type { ProbesResult } from '../../core/steps/probes.ts';
import type { Host } from '../host/host.ts';
import { Button } from '../parts/Button.tsx';
import { CopyButton } from '../parts/CopyButton.tsx';
import { EmptyState } from '../parts/EmptyState.tsx';
import { Field } from '../parts/Field.tsx';
import { useTableExport } from '../procedures/use-table-export.ts';
import { useWorkbench } from '../state/workbench.ts';
import { CharacteristicsTable } from './CharacteristicsTable.tsx';
import styles from './Pictures.module.css';

/** So many columns a table shows at once; the filter brings the others. */
const mostColumns = 60;
/** From so many on a filter is worth its place. */
const filterFrom = 6;

/** The table of the probes with what is done with it as a whole. */
export function TablePanel({
  result,
  host,
  choice,
}: {
  readonly result: ProbesResult;
  readonly host: Host;
  readonly choice: ReactNode;
}) {
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const exported = useTableExport(host, 'probes');
  const [words, setWords] = useState('');
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  const matching = result.probes.filter(({ probe }) => wanted.every((word) => probe.toLowerCase().includes(word)));
  const shown = matching.slice(0, mostColumns);
  const table = () => characteristicsTable(matching, style);
  return (
    <section className={styles.panel} aria-label="Table of the probes">
      <div className={styles.head}>
        {choice}
        <div className={styles.tools}>
          {result.probes.length > filterFrom && (
            <Field label="Filter probes" hideLabel placeholder="Filter the probes" value={words} onChange={setWords} />
          )}
          <CopyButton small rows={matching.length} copied="Copied" onCopy={() => exported.copy(table())} />
          <Button
            small
            isDisabled={matching.length === 0}
            aria-label="Save the table as CSV"
            onPress={() => exported.save(table())}
          >
            CSV
          </Button>
        </div>
      </div>
      {matching.length > shown.length && (
        <p className={styles.words}>
          The first {shown.length} of {matching.length} probes: filter to see others. Copies and files have all.
        </p>
      )}
      {shown.length === 0 ? (
        <EmptyState title="No probe has these words" />
      ) : (
        <div className={styles.table}>
          <CharacteristicsTable
            result={result}
            shown={shown}
            onAsk={actions.ask}
            asked={asked}
            onSelect={actions.select}
            style={style}
          />
        </div>
      )}
    </section>
  );
}
