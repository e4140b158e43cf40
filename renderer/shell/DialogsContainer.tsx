import { useEffect, useState } from 'react';
import type { Host } from '../host/host.ts';
import { AboutBox } from '../parts/AboutBox.tsx';
import { SettingsDialog } from '../settings/SettingsDialog.tsx';
import type { CommandState } from '../state/command.ts';
import { useWorkbench } from '../state/workbench.ts';
import { CommandPalette } from './CommandPalette.tsx';
import { partKeys } from './part-keys.ts';
import { ConflictQuestion, LeaveQuestion } from './Questions.tsx';
import { ShortcutHelp } from './ShortcutHelp.tsx';
import type { PageShell } from './use-shell.ts';

/** The dialogs and questions that may stand over the page, connected to the workbench. */
export function DialogsContainer({
  host,
  shell,
  state,
}: {
  readonly host: Host;
  readonly shell: PageShell;
  readonly state: CommandState;
}) {
  const { dialog, closeDialog, leaving, answerLeaving, run } = shell;
  const style = useWorkbench((workbench) => workbench.style);
  const theme = useWorkbench((workbench) => workbench.theme);
  const given = useWorkbench((workbench) => workbench.given);
  const conflict = useWorkbench((workbench) => workbench.conflict);
  const actions = useWorkbench((workbench) => workbench.actions);
  return (
    <>
      <CommandPalette state={state} isOpen={dialog === 'palette'} onClose={closeDialog} onRun={run} />
      <SettingsDialog
        settings={{ theme, ...style }}
        isOpen={dialog === 'settings'}
        onChange={(settings) => {
          if (settings.theme !== theme) actions.setTheme(settings.theme);
          if (settings.units !== style.units || settings.decimalMark !== style.decimalMark) {
            actions.setStyle({ units: settings.units, decimalMark: settings.decimalMark });
          }
        }}
        onClose={closeDialog}
      />
      <ShortcutHelp state={state} groups={partKeys} isOpen={dialog === 'shortcuts'} onClose={closeDialog} />
      <AboutBox
        version={useVersion(host)}
        isOpen={dialog === 'about'}
        onClose={closeDialog}
        readLicences={async () => {
          const answer = await fetch('./licences.txt');
          if (!answer.ok) throw new Error('The licences are not there.');
          return answer.text();
        }}
      />
      <LeaveQuestion
        name={state.review.title || state.name || 'this review'}
        isOpen={leaving !== null}
        onSave={() => answerLeaving('save')}
        onDiscard={() => answerLeaving('discard')}
        onStay={() => answerLeaving('stay')}
      />
      <LeaveQuestion
        name={state.review.title || state.name || 'this review'}
        before={given === null ? null : given.name}
        isOpen={given !== null}
        onSave={() => void actions.save().then((wasSaved) => actions.answerGiven(wasSaved ? 'open' : 'leave'))}
        onDiscard={() => void actions.answerGiven('open')}
        onStay={() => void actions.answerGiven('leave')}
      />
      <ConflictQuestion conflict={conflict} onChoose={(choice) => void actions.resolveConflict(choice)} />
    </>
  );
}

function useVersion(host: Host): string | null {
  const [version, setVersion] = useState<string | null>(null);
  useEffect(() => {
    host.about().then(
      (about) => setVersion(about.version),
      () => setVersion(null),
    );
  }, [host]);
  return version;
}
