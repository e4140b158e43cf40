import { useState } from 'react';
import type { ImportRecipe } from '../../../core/import/import-recipe.ts';
import type { Echo } from '../../../core/signal/echoes.ts';
import { AboutBox } from '../../parts/AboutBox.tsx';
import { ColumnDialog } from '../../procedures/ColumnDialog.tsx';
import { SettingsDialog } from '../../settings/SettingsDialog.tsx';
import { CommandPalette } from '../../shell/CommandPalette.tsx';
import { partKeys } from '../../shell/part-keys.ts';
import { ConflictQuestion, LeaveQuestion } from '../../shell/Questions.tsx';
import { ShortcutHelp } from '../../shell/ShortcutHelp.tsx';
import { ReflectorDialog } from '../../trace/ReflectorDialog.tsx';
import type { Desk, PreviewShown } from '../data/desk.ts';
import type { Scene, Section } from '../scene.ts';

const nothing = () => {};

/** What opens over the page; each alone in the window. */
export const dialogs: Section = {
  id: 'dialogs',
  title: 'Dialogs',
  scenes(desk): readonly Scene[] {
    const { state, previews } = desk;
    const scene = (id: string, title: string, content: Scene['content']): Scene => ({
      id,
      title,
      frame: 'dialog',
      content,
    });
    return [
      scene('palette', 'All commands', <CommandPalette state={state} isOpen onClose={nothing} onRun={nothing} />),
      scene(
        'palette-new',
        'All commands, nothing opened',
        <CommandPalette
          state={{ ...state, captures: new Map(), selected: null, selectedGate: null, undoName: null }}
          isOpen
          onClose={nothing}
          onRun={nothing}
        />,
      ),
      scene('keys', 'Keys and shortcuts', <ShortcutHelp state={state} groups={partKeys} isOpen onClose={nothing} />),
      scene(
        'settings',
        'Settings',
        <SettingsDialog
          settings={{ theme: 'system', units: 'inch', decimalMark: ',' }}
          isOpen
          onChange={nothing}
          onClose={nothing}
        />,
      ),
      scene('about', 'About', <AboutBox version="1.2.3" isOpen onClose={nothing} readLicences={async () => 'MIT'} />),
      scene(
        'leave',
        'Unsaved work, a long name',
        <LeaveQuestion
          name="pressure-vessel-7-circumferential-weld-3-second-examination-after-repair.json"
          isOpen
          onSave={nothing}
          onDiscard={nothing}
          onStay={nothing}
        />,
      ),
      scene(
        'conflict',
        'Saved by another window',
        <ConflictQuestion
          conflict={{ place: { name: 'plate-9.json' }, at: '2026-03-02T16:40:12Z' }}
          onChoose={nothing}
        />,
      ),
      scene(
        'reflector',
        'An echo becomes a reflector',
        <ReflectorDialog
          echo={echo(desk)}
          number={3}
          replaces="The calibration in force was taken over as it stands. This begins a new one in its place; Undo brings it back."
          style={state.style}
          onTake={nothing}
          onClose={nothing}
        />,
      ),
      scene(
        'columns-loading',
        'Columns: the file is being read',
        <Columns desk={desk} shown={null} file="export/left.csv" />,
      ),
      ...previews.map((shown) =>
        scene(
          `columns-${shown.id}`,
          `Columns: ${shown.title}`,
          <Columns desk={desk} shown={shown} file={shown.preview.source.file} />,
        ),
      ),
    ];
  },
};

function Columns({
  desk,
  shown,
  file,
}: {
  readonly desk: Desk;
  readonly shown: PreviewShown | null;
  readonly file: string;
}) {
  const [recipe, setRecipe] = useState<ImportRecipe>(shown?.recipe ?? desk.state.files.values().next().value!.recipe);
  return (
    <ColumnDialog
      file={file}
      recipe={recipe}
      onRecipe={setRecipe}
      preview={shown?.preview ?? null}
      isWorking={shown?.isWorking ?? false}
      sameShape={[file, 'export/right.csv']}
      onUse={nothing}
      onClose={nothing}
      style={desk.state.style}
    />
  );
}

function echo({ state }: Desk): Echo {
  const reading = state.evaluation?.readings?.readings.find(({ timeUs }) => timeUs !== null);
  return {
    timeUs: reading?.timeUs?.value ?? 0,
    uTimeUs: null,
    onsetUs: null,
    flank: null,
    amplitudePercent: reading?.amplitudePercent ?? 0,
    prominencePercent: 0,
    signalToNoiseDb: null,
    flags: ['saturated'],
    from: { first: 0, last: 1 },
  };
}
