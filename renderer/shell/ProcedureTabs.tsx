import type { ReactNode } from 'react';
import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components';
import type { Procedure } from '../state/workbench-state.ts';
import styles from './ProcedureTabs.module.css';

const names: Readonly<Record<Procedure, string>> = {
  import: 'Import',
  calibration: 'Calibration',
  readings: 'Readings',
  drift: 'Drift',
};

/** More is said as this many and more, so that the tabs keep to one line. */
const mostCounted = 99;

/** The procedures, one in sight; none has to be done before another. A tab may bear a word on what waits there. */
export function ProcedureTabs({
  chosen,
  onChoose,
  notes,
  children,
}: {
  readonly chosen: Procedure;
  readonly onChoose: (procedure: Procedure) => void;
  /** How many things in it want a person's attention. */
  readonly notes: Readonly<Record<Procedure, number>>;
  readonly children: (procedure: Procedure) => ReactNode;
}) {
  const procedures = Object.keys(names) as Procedure[];
  return (
    <Tabs
      className={styles.tabs ?? ''}
      selectedKey={chosen}
      onSelectionChange={(key) => onChoose(key as Procedure)}
      keyboardActivation="manual"
    >
      <TabList aria-label="Procedures" className={styles.list ?? ''}>
        {procedures.map((id) => (
          <Tab key={id} id={id} className={styles.tab ?? ''}>
            {names[id]}
            {notes[id] > 0 && (
              <span className={styles.note}>
                {notes[id] > mostCounted ? `${mostCounted}+` : notes[id]}
                <span className={styles.spoken}>{notes[id] === 1 ? ' doubt' : ' doubts'}</span>
              </span>
            )}
          </Tab>
        ))}
      </TabList>
      {procedures.map((id) => (
        <TabPanel key={id} id={id} className={styles.panel ?? ''}>
          {children(id)}
        </TabPanel>
      ))}
    </Tabs>
  );
}
