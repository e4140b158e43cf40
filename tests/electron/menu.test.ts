import { describe, expect, it } from 'vitest';
import { acceleratorOf, menuTemplate } from '../../electron/menu.ts';
import { commands } from '../../renderer/state/commands.ts';

const told = [
  {
    label: 'Edit',
    items: [
      { id: 'undo', label: "Undo: move gate 'root & toe'", shortcut: '$mod+z', enabled: true, apart: false },
      { id: 'settings', label: 'Settings …', shortcut: null, enabled: false, apart: true },
    ],
  },
  { label: 'Help', items: [] },
];

describe('the native menu', () => {
  it('has the page’s commands, in its words and order', () => {
    const chosen: string[] = [];
    const [edit] = menuTemplate(told, (id) => chosen.push(id), 'linux');
    const items = edit!.submenu as { label?: string; click?: () => void; type?: string }[];
    expect(items.map(({ label, type }) => label ?? type).slice(0, 3)).toEqual([
      "Undo: move gate 'root && toe'",
      'separator',
      'Settings …',
    ]);
    items[0]!.click!();
    expect(chosen).toEqual(['undo']);
  });

  it('shows the shortcuts and leaves them to the page', () => {
    const items = menuTemplate(told, () => {}, 'linux')[0]!.submenu as object[];
    expect(items[0]).toMatchObject({ accelerator: 'CommandOrControl+Z', registerAccelerator: false });
    expect(items[2]).toMatchObject({ enabled: false });
    expect(items[2]).not.toHaveProperty('accelerator');
  });

  it('offers neither the page anew nor the tools of a developer', () => {
    const roles = JSON.stringify(
      menuTemplate([...told, { label: 'View', items: [] }, { label: 'File', items: [] }], () => {}, 'linux'),
    );
    expect(roles).toContain('"togglefullscreen"');
    expect(roles).not.toMatch(/reload|devtools/i);
  });

  it('on a Mac stands between the program’s own menu and the windows’', () => {
    const menu = menuTemplate(told, () => {}, 'darwin');
    expect(menu.map(({ role, label }) => role ?? label)).toEqual(['appMenu', 'Edit', 'Help', 'windowMenu']);
  });
});

describe('acceleratorOf', () => {
  it.each([
    ['$mod+z', 'CommandOrControl+Z'],
    ['$mod+Shift+z', 'CommandOrControl+Shift+Z'],
    ['Alt+Digit1', 'Alt+1'],
    ['Alt+ArrowDown', 'Alt+Down'],
    ['$mod+,', 'CommandOrControl+,'],
    ['F1', 'F1'],
  ])('%s is %s', (shortcut, accelerator) => {
    expect(acceleratorOf(shortcut)).toBe(accelerator);
  });

  it('makes an accelerator that Electron takes of every shortcut of the list of commands', () => {
    // The modifiers and key codes of Electron's documentation (Accelerator) that the list has use for.
    const accelerator = /^((CommandOrControl|Shift|Alt)\+)*([A-Z0-9,]|F\d+|Up|Down|Left|Right)$/;
    const shortcuts = commands.flatMap((command) => command.shortcuts ?? []);
    expect(shortcuts.length).toBeGreaterThan(10);
    expect(shortcuts.map(acceleratorOf).filter((one) => !accelerator.test(one))).toEqual([]);
  });
});
