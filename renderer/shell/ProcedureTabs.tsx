import { type ReactNode, useRef } from 'react';
import { Tab, TabList, TabPanel, Tabs } from 'react-aria-components';
import type { Procedure } from '../state/workbench-state.ts';
import styles from './ProcedureTabs.module.css';
import { groupOf, type ProcedureGroup, procedureGroups, procedureNames } from './procedure-groups.ts';

/** More is said as this many and more, so that the tabs keep to one line. */
const mostCounted = 99;
const mostCountedOfGroup = 99;

/** How many things in a procedure want a person's attention; none where it is not named. */
export type ProcedureNotes = Readonly<Partial<Record<Procedure, number>>>;

/**
 * The procedures, one in sight; none has to be done before another. They stand in groups, each with what waits in it; a group is found again at the
 * procedure at which it was left.
 */
export function ProcedureTabs({
  chosen,
  onChoose,
  notes,
  children,
}: {
  readonly chosen: Procedure;
  readonly onChoose: (procedure: Procedure) => void;
  readonly notes: ProcedureNotes;
  readonly children: (procedure: Procedure) => ReactNode;
}) {
  const left = useRef(new Map<ProcedureGroup, Procedure>());
  left.current.set(groupOf(chosen), chosen);
  return (
    <Tabs
      className={styles.tabs ?? ''}
      selectedKey={groupOf(chosen)}
      onSelectionChange={(key) => {
        const group = procedureGroups.find(({ id }) => id === key);
        const next = group && (left.current.get(group.id) ?? group.procedures[0]);
        if (next !== undefined && group?.id !== groupOf(chosen)) onChoose(next);
      }}
      keyboardActivation="manual"
    >
      <TabList aria-label="Groups" className={styles.groups ?? ''}>
        {procedureGroups.map(({ id, title, procedures }) => (
          <Tab key={id} id={id} className={styles.group ?? ''}>
            {title}
            <Note count={procedures.reduce((sum, one) => sum + (notes[one] ?? 0), 0)} most={mostCountedOfGroup} />
          </Tab>
        ))}
      </TabList>
      {procedureGroups.map(({ id, procedures }) => (
        <TabPanel key={id} id={id} className={styles.ofGroup ?? ''}>
          <Tabs
            className={styles.tabs ?? ''}
            selectedKey={chosen}
            onSelectionChange={(key) => onChoose(key as Procedure)}
            keyboardActivation="manual"
          >
            <TabList aria-label="Procedures" className={styles.list ?? ''}>
              {procedures.map((one) => (
                <Tab key={one} id={one} className={styles.tab ?? ''}>
                  {procedureNames[one]}
                  <Note count={notes[one] ?? 0} most={mostCounted} />
                </Tab>
              ))}
            </TabList>
            {procedures.map((one) => (
              <TabPanel key={one} id={one} className={styles.panel ?? ''}>
                {children(one)}
              </TabPanel>
            ))}
          </Tabs>
        </TabPanel>
      ))}
    </Tabs>
  );
}

function Note({ count, most }: { readonly count: number; readonly most: number }) {
  if (count === 0) return null;
  return (
    <span className={styles.note}>
      {count > most ? `${most}+` : count}
      <span className={styles.spoken}>{count === 1 ? ' doubt' : ' doubts'}</span>
    </span>
  );
}
