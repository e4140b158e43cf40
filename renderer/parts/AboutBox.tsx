import { useEffect, useState } from 'react';
import { cautions } from '../../core/cautions.ts';
import styles from './AboutBox.module.css';
import { Button } from './Button.tsx';
import { Modal } from './Modal.tsx';

/** What the program is for, the cautions, its version, and the licences of what it is built from. */
export function AboutBox({
  version,
  isOpen,
  onClose,
  readLicences,
}: {
  /** `null`: not known. */
  readonly version: string | null;
  readonly isOpen: boolean;
  readonly onClose: () => void;
  /** The licences' full texts, once they are asked for. */
  readonly readLicences: () => Promise<string>;
}) {
  const [licences, setLicences] = useState<string | null>(null);
  useEffect(() => {
    if (!isOpen) setLicences(null);
  }, [isOpen]);

  async function show(): Promise<void> {
    setLicences(await readLicences().catch(() => 'The licences could not be read; build the page anew.'));
  }

  return (
    <Modal
      title="A-scan workbench"
      isOpen={isOpen}
      onClose={onClose}
      actions={
        <Button kind="main" onPress={onClose}>
          Close
        </Button>
      }
    >
      <div className={styles.about}>
        <p>
          For saved ultrasonic A-scans: distance calibration, readings that say whether to trust them, drift checks.
          {version !== null && ` Version ${version}.`}
        </p>
        <h3>Before you rely on a reading</h3>
        <ul>
          {cautions.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
        <h3>Where it works</h3>
        <p>Everything is computed on this machine; nothing is sent anywhere, and no source file is ever changed.</p>
        <h3>Licences</h3>
        <p>
          Built from the work of others, each under its own licence. The typeface is Atkinson Hyperlegible Next (SIL
          Open Font License 1.1).
        </p>
        {licences === null ? (
          <Button small onPress={() => void show()}>
            Show the licences
          </Button>
        ) : (
          // biome-ignore lint/a11y/noNoninteractiveTabindex: a long text must be scrollable by the keyboard
          <section className={styles.licences} tabIndex={0} aria-label="Licences">
            <pre>{licences}</pre>
          </section>
        )}
      </div>
    </Modal>
  );
}
