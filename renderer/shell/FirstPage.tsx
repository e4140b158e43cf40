import type { ReactNode } from 'react';
import { cautions } from '../../core/cautions.ts';
import type { Draft, Recent } from '../host/host.ts';
import { Button } from '../parts/Button.tsx';
import { Icon } from '../parts/Icon.tsx';
import styles from './FirstPage.module.css';
import { instantWords } from './instant-words.ts';

export interface FirstPageProps {
  readonly recent: readonly Recent[];
  readonly drafts: readonly Draft[];
  readonly onOpenCaptures: () => void;
  readonly onOpenFolder: () => void;
  readonly onOpenReview: () => void;
  readonly onOpenSample: () => void;
  readonly onOpenInstrument: () => void;
  readonly onOpenProbes: () => void;
  readonly onOpenRecent: (id: string) => void;
  readonly onRecover: (id: string) => void;
  readonly onForgetDraft: (id: string) => void;
}

/** What stands where no review is open yet: the ways in, what was worked on lately, and what a crash left. */
export function FirstPage(props: FirstPageProps) {
  return (
    <div className={styles.page}>
      <div className={styles.sheet}>
        <header>
          <h2>What would you like to look at?</h2>
          <p>
            Saved A-scans as text files: a distance calibration with its uncertainty, readings that say whether to trust
            them, checks of the instrument with their verdicts. Nothing is sent anywhere, and no source file is ever
            changed.
          </p>
        </header>
        {props.drafts.length > 0 && <Drafts {...props} />}
        <div className={styles.ways}>
          <Way
            title="Open captures"
            words="Waveform files, or a folder of them. Or drop them anywhere on this page."
            actions={
              <>
                <Button kind="main" onPress={props.onOpenCaptures}>
                  <Icon name="file" /> Files …
                </Button>
                <Button onPress={props.onOpenFolder}>
                  <Icon name="folder" /> Folder …
                </Button>
              </>
            }
          />
          <Way
            title="Open a sample"
            words="An invented shift: a reference block, a plate weld, drift checks through the day. Or an invented instrument in its yearly check: linearity, sensitivity, verdicts. Or three invented probes on one plate."
            actions={
              <>
                <Button onPress={props.onOpenSample}>Open the sample shift</Button>
                <Button onPress={props.onOpenInstrument}>Open the yearly check</Button>
                <Button onPress={props.onOpenProbes}>Open the three probes</Button>
              </>
            }
          />
          <Way
            title="Open a review"
            words="Saved earlier, here or on another machine: its captures are found by name and checked by their content."
            actions={<Button onPress={props.onOpenReview}>Review …</Button>}
          />
        </div>
        {props.recent.length > 0 && (
          <section aria-labelledby="recent-title">
            <h3 id="recent-title">Recent reviews</h3>
            <ul className={styles.recent}>
              {props.recent.map(({ id, name, at }) => (
                <li key={id}>
                  <Button kind="quiet" onPress={() => props.onOpenRecent(id)}>
                    <span className={styles.name}>{name}</span>
                    <span className={styles.when}>{instantWords(at)}</span>
                  </Button>
                </li>
              ))}
            </ul>
          </section>
        )}
        <footer>
          <h3>Before you rely on a reading</h3>
          <ul>
            {cautions.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </footer>
      </div>
    </div>
  );
}

function Way({
  title,
  words,
  actions,
}: {
  readonly title: string;
  readonly words: string;
  readonly actions: ReactNode;
}) {
  return (
    <section className={styles.way}>
      <h3>{title}</h3>
      <p>{words}</p>
      <div>{actions}</div>
    </section>
  );
}

function Drafts({ drafts, onRecover, onForgetDraft }: FirstPageProps) {
  return (
    <section className={styles.drafts} aria-labelledby="drafts-title">
      <h3 id="drafts-title">Work that was not saved</h3>
      <p>A window ended before its review was saved. What stood in it a second before is still here.</p>
      <ul>
        {drafts.map(({ id, name, at }) => {
          const words = `${name ?? 'Untitled review'}, ${instantWords(at)}`;
          return (
            <li key={id}>
              <span>
                <span className={styles.name}>{name ?? 'Untitled review'}</span>
                <span className={styles.when}>{instantWords(at)}</span>
              </span>
              <Button kind="main" small onPress={() => onRecover(id)} aria-label={`Recover ${words}`}>
                Recover
              </Button>
              <Button small onPress={() => onForgetDraft(id)} aria-label={`Let go of ${words}`}>
                Let go
              </Button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
