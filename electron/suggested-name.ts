import { withUnseen } from '../core/visible-text.ts';

/** What the program saves: nothing that a system would run when it is opened. */
const endings = ['ascan-review', 'json', 'csv', 'svg', 'png', 'zip', 'html', 'pdf', 'txt'] as const;

const longest = 120;

/** Names of devices of Windows, with any ending (Microsoft, Naming Files, Paths, and Namespaces; from memory). */
const deviceName = /^(?:con|prn|aux|nul|com\d|lpt\d)(?:\.|$)/i;

/**
 * A name for the dialog in which a person chooses where to save, made of what the page suggests: a file's name alone, in no folder, not hidden, without what
 * cannot be seen, and with an ending of what the program saves, so that a page that has been taken over can suggest neither a place nor a program.
 */
export function suggestedFileName(suggested: string): string {
  const name = suggested.replace(/[/\\:*?"<>|]/g, '-');
  const ending = endings.find((one) => name.toLowerCase().endsWith(`.${one}`)) ?? null;
  const begin = (ending === null ? name : name.slice(0, -ending.length - 1)).slice(0, longest);
  const stem = withUnseen(begin, () => '').replace(/^[\s.~-]+|[\s.]+$/g, '');
  return `${stem === '' || deviceName.test(stem) ? 'unnamed' : stem}.${ending ?? 'txt'}`;
}
