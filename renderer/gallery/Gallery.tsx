import { useMemo, useSyncExternalStore } from 'react';
import { I18nProvider } from 'react-aria-components';
import type { Desk } from './data/desk.ts';
import styles from './Gallery.module.css';
import type { Scene } from './scene.ts';
import {
  gainSection,
  reportSection,
  screenHeightSection,
  sensitivitySection,
  timeBaseSection,
  verdictsSection,
} from './scenes/audit.tsx';
import { captures } from './scenes/captures.tsx';
import { dialogs } from './scenes/dialogs.tsx';
import { pages } from './scenes/pages.tsx';
import { depthSection, indicationSection, locationSection, partSection, sectionSection } from './scenes/part.tsx';
import { parts } from './scenes/parts.tsx';
import { comparisonSection, materialSection, probePicturesSection, probesSection } from './scenes/probes.tsx';
import { calibrationSection, driftSection, importSection, readingsSection } from './scenes/procedures.tsx';
import { series } from './scenes/series.tsx';
import { shell } from './scenes/shell.tsx';
import { trace } from './scenes/trace.tsx';
import { wherefrom } from './scenes/wherefrom.tsx';

const sections = [
  parts,
  shell,
  captures,
  trace,
  series,
  importSection,
  calibrationSection,
  readingsSection,
  driftSection,
  sectionSection,
  depthSection,
  partSection,
  locationSection,
  indicationSection,
  timeBaseSection,
  screenHeightSection,
  gainSection,
  sensitivitySection,
  probesSection,
  comparisonSection,
  materialSection,
  probePicturesSection,
  verdictsSection,
  reportSection,
  wherefrom,
  dialogs,
  pages,
];

/**
 * Every component in every state, for the eye, for pictures and for the checks of access: `#SECTION` shows a section, `#SECTION/SCENE` one scene alone.
 */
export function Gallery({ desk }: { readonly desk: Desk }) {
  const [sectionId, sceneId] = useAddress().split('/');
  const all = useMemo(() => sections.map((section) => ({ ...section, shown: section.scenes(desk) })), [desk]);
  const section = all.find(({ id }) => id === sectionId) ?? all[0]!;
  const scene = section.shown.find(({ id }) => id === sceneId);
  return (
    <I18nProvider locale="en-GB">
      {scene === undefined ? (
        <div className={styles.gallery}>
          <nav className={styles.index} aria-label="Sections">
            {all.map(({ id, title, shown }) => (
              <section key={id}>
                <h2>
                  <a href={`#${id}`} {...(id === section.id ? { 'aria-current': 'page' } : {})}>
                    {title}
                  </a>
                </h2>
                {id === section.id &&
                  shown.map((one) => (
                    <a key={one.id} href={`#${id}/${one.id}`} data-scene={`${id}/${one.id}`}>
                      {one.title}
                    </a>
                  ))}
              </section>
            ))}
          </nav>
          <main className={styles.scenes}>
            {section.shown
              .filter(({ frame }) => frame !== 'dialog' && frame !== 'window')
              .map((one) => (
                <figure key={`${section.id}/${one.id}`} className={styles[one.frame]}>
                  <figcaption>{one.title}</figcaption>
                  <Frame scene={one} />
                </figure>
              ))}
          </main>
        </div>
      ) : scene.frame === 'window' ? (
        <div className={styles.window} data-frame={scene.id} key={scene.id}>
          {scene.content}
        </div>
      ) : (
        <div className={styles.alone} key={`${section.id}/${scene.id}`}>
          <h1 className={styles.unseen}>{scene.title}</h1>
          <main className={styles[scene.frame]}>
            <Frame scene={scene} />
          </main>
        </div>
      )}
    </I18nProvider>
  );
}

function Frame({ scene }: { readonly scene: Scene }) {
  return (
    <div className={styles.frame} data-frame={scene.id}>
      {scene.content}
    </div>
  );
}

function useAddress(): string {
  return useSyncExternalStore(
    (onChange) => {
      window.addEventListener('hashchange', onChange);
      return () => window.removeEventListener('hashchange', onChange);
    },
    () => window.location.hash.slice(1),
  );
}
