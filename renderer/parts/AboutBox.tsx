import { useEffect, useRef, useState } from 'react';
import { cautions } from '../../core/cautions.ts';
import type { Host } from '../host/host.ts';
import styles from './AboutBox.module.css';

/** The button that opens the about box, and the box: what the program is for, and the cautions. */
export function AboutBox({ host }: { readonly host: Host }) {
  const box = useRef<HTMLDialogElement>(null);
  const [version, setVersion] = useState<string | null>(null);
  useEffect(() => {
    host.about().then(
      (about) => setVersion(about.version),
      () => setVersion(null),
    );
  }, [host]);

  return (
    <>
      <button type="button" onClick={() => box.current?.showModal()}>
        About and cautions
      </button>
      <dialog className={styles.box} ref={box} aria-labelledby="about-title">
        <h2 id="about-title">A-scan workbench {version}</h2>
        <p>
          For saved ultrasonic A-scans: distance calibration, readings that say whether to trust them, drift checks.
        </p>
        <h3>Before you rely on a reading</h3>
        <ul>
          {cautions.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
        <p className={styles.small}>
          Everything is computed on this machine; nothing is sent anywhere. Typeface: Atkinson Hyperlegible Next (SIL
          Open Font License 1.1).
        </p>
        <form method="dialog">
          <button type="submit">Close</button>
        </form>
      </dialog>
    </>
  );
}
