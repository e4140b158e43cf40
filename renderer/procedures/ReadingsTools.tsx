import type { Flag } from '../../core/flag.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { type ReadingColumn, readingsText } from '../../core/report/readings-table.ts';
import { Button } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { CopyButton } from '../parts/CopyButton.tsx';
import { Field } from '../parts/Field.tsx';
import { Icon } from '../parts/Icon.tsx';
import styles from './ReadingsTable.module.css';
import type { ReadingsTableProps } from './ReadingsTable.tsx';
import { flagCounts, flagName } from './reading-rows.ts';

interface ToolsProps extends ReadingsTableProps {
  /** As they stand in the table: these are copied and saved. */
  readonly rows: readonly Reading[];
  readonly columns: readonly ReadingColumn[];
}

/** What is done with the table as a whole: filtered by words and doubts, copied, saved. */
export function ReadingsTools(props: ToolsProps) {
  const { filter, onFilter } = props;
  return (
    <div className={styles.tools}>
      <Field
        label="Filter readings"
        hideLabel
        placeholder="Filter the readings"
        value={filter.words}
        onChange={(words) => onFilter({ ...filter, words })}
      />
      <DoubtChoice {...props} />
      <CopyAndSave {...props} />
    </div>
  );
}

function DoubtChoice({ readings, filter, onFilter }: ReadingsTableProps) {
  const doubtful = readings.filter((reading) => reading.flags.length > 0).length;
  const options = [
    { id: 'all', label: 'All readings' },
    { id: 'any', label: `With a doubt (${doubtful})` },
    { id: 'none', label: `Without a doubt (${readings.length - doubtful})` },
    ...flagCounts(readings).map(({ flag, count }) => ({ id: flag as string, label: `${flagName(flag)} (${count})` })),
  ];
  return (
    <Choice
      label="Doubts"
      hideLabel
      options={options}
      chosen={filter.doubt ?? 'all'}
      onChoose={(id) => onFilter({ ...filter, doubt: id === 'all' ? null : (id as Flag | 'any' | 'none') })}
    />
  );
}

function CopyAndSave({ rows, columns, captures, style, onCopy, onSave }: ToolsProps) {
  const table = () => readingsText(rows, columns, captures, style);
  return (
    <>
      <CopyButton rows={rows.length} onCopy={() => onCopy(table())} />
      <Button isDisabled={rows.length === 0} onPress={() => onSave(table())}>
        <Icon name="save" />
        Save as CSV
      </Button>
    </>
  );
}
