import { useEffect } from 'react';
import { tinykeys } from 'tinykeys';
import { carryOut, type Doing } from '../state/command.ts';
import { commands } from '../state/commands.ts';

/** Listens to the shortcuts of the list of commands for as long as the page stands. */
export function useShortcuts(doing: () => Doing): void {
  useEffect(() => {
    const bindings = commands.flatMap((command) =>
      (command.shortcuts ?? []).map((shortcut) => [
        shortcut,
        (event: KeyboardEvent) => {
          if (event.defaultPrevented || isElsewhere(event.target)) return;
          if (isTextField(event.target) && command.inTextFields !== true) return;
          event.preventDefault();
          if (!event.repeat || isRepeatable(command.id)) carryOut(command, doing());
        },
      ]),
    );
    return tinykeys(window, Object.fromEntries(bindings));
  }, [doing]);
}

/** Held keys walk through the captures and the history; nothing else happens twice for one press. */
function isRepeatable(id: string): boolean {
  return ['undo', 'redo', 'next-capture', 'previous-capture'].includes(id);
}

/** A dialog that wants an answer: the page behind it is out of reach. */
function isElsewhere(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest('[data-modal]') !== null;
}

export function isTextField(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target.isContentEditable || target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement)
    return true;
  return target instanceof HTMLInputElement && !['checkbox', 'radio', 'range', 'button', 'file'].includes(target.type);
}
