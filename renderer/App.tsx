import { useEffect, useState } from 'react';
import styles from './App.module.css';
import type { Engine } from './engine/engine.ts';
import type { Host } from './host/host.ts';
import { AboutBox } from './parts/AboutBox.tsx';
import { ProblemList } from './parts/ProblemList.tsx';
import { type Opening, openSample } from './state/opening.ts';
import { Trace } from './trace/Trace.tsx';

const firstShown = 'reference-block.csv';

/** The page's regions; no logic. */
export function App({ host, engine }: { readonly host: Host; readonly engine: Engine }) {
  const [opening, setOpening] = useState<Opening>({ phase: 'reading', name: firstShown });
  useEffect(() => {
    let wanted = true;
    void openSample(host, engine, firstShown).then((opened) => {
      if (wanted) setOpening(opened);
    });
    return () => {
      wanted = false;
    };
  }, [host, engine]);

  return (
    <div className={styles.page}>
      <header className={styles.head}>
        <h1>A-scan workbench</h1>
        <AboutBox host={host} />
      </header>
      <main className={styles.main}>
        <Shown opening={opening} engine={engine} />
      </main>
    </div>
  );
}

function Shown({ opening, engine }: { readonly opening: Opening; readonly engine: Engine }) {
  switch (opening.phase) {
    case 'reading':
      return (
        <p className={styles.note} role="status">
          Reading {opening.name} …
        </p>
      );
    case 'refused':
      return <ProblemList title="This file cannot be shown" problems={opening.problems} />;
    case 'unanswered':
      return <ProblemList title="Say this before the file can be shown" problems={opening.asks} />;
    case 'open':
      return (
        <>
          {opening.warnings.length > 0 && (
            <ProblemList title="What was taken for granted" problems={opening.warnings} />
          )}
          <Trace engine={engine} trace={opening.trace} />
        </>
      );
  }
}
