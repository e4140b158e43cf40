import type { Command } from '../state/command.ts';
import { commands } from '../state/commands.ts';
import { useWorkbench } from '../state/workbench.ts';
import type { State } from '../state/workbench-state.ts';
import { FirstPage } from './FirstPage.tsx';

/** Nothing has been opened or decided, and nothing is on its way. */
export function isBlank({
  review,
  files,
  name,
  undoName,
  redoName,
  importing,
}: Pick<State, 'review' | 'files' | 'name' | 'undoName' | 'redoName' | 'importing'>): boolean {
  return (
    review.sources.length === 0 &&
    files.size === 0 &&
    name === null &&
    undoName === null &&
    redoName === null &&
    importing === null
  );
}

export function FirstPageContainer({ onRun }: { readonly onRun: (command: Command) => void }) {
  const recent = useWorkbench((workbench) => workbench.recent);
  const drafts = useWorkbench((workbench) => workbench.drafts);
  const actions = useWorkbench((workbench) => workbench.actions);
  const by = (id: string) => () => {
    const command = commands.find((one) => one.id === id);
    if (command !== undefined) onRun(command);
  };
  return (
    <FirstPage
      recent={recent}
      drafts={drafts}
      onOpenCaptures={by('open-captures')}
      onOpenFolder={by('open-folder')}
      onOpenReview={by('open-review')}
      onOpenSample={by('open-sample')}
      onOpenInstrument={by('open-sample-instrument')}
      onOpenProbes={by('open-sample-probes')}
      onOpenRecent={(id) => void actions.openRecent(id)}
      onRecover={(id) => void actions.recover(id)}
      onForgetDraft={(id) => void actions.forgetDraft(id)}
    />
  );
}
