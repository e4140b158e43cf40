import type { MenuItemConstructorOptions } from 'electron';
import type { MenuTold } from './bridge.ts';

/**
 * The window's own menu from the page's list of commands. Shortcuts are shown but left to the page, which keeps them out of text fields;
 * what belongs to text fields and to the window (cut, copy, full screen …) is added here.
 */
export function menuTemplate(
  told: MenuTold,
  choose: (id: string) => void,
  platform: NodeJS.Platform,
): MenuItemConstructorOptions[] {
  const menus = told.map(({ label, items }): MenuItemConstructorOptions => {
    const own = items.flatMap(({ id, label: words, shortcut, enabled, apart }): MenuItemConstructorOptions[] => [
      ...(apart ? [{ type: 'separator' as const }] : []),
      {
        id,
        label: words.replaceAll('&', '&&'),
        enabled,
        ...(shortcut === null ? {} : { accelerator: acceleratorOf(shortcut), registerAccelerator: false }),
        click: () => choose(id),
      },
    ]);
    return { label, submenu: [...own, ...rolesFor(label, platform)] };
  });
  return platform === 'darwin' ? [{ role: 'appMenu' }, ...menus, { role: 'windowMenu' }] : menus;
}

function rolesFor(label: string, platform: NodeJS.Platform): MenuItemConstructorOptions[] {
  const separator = { type: 'separator' as const };
  if (label === 'Edit') {
    return [separator, { role: 'cut' }, { role: 'copy' }, { role: 'paste' }, { role: 'selectAll' }];
  }
  if (label === 'View') {
    return [separator, { role: 'resetZoom' }, { role: 'zoomIn' }, { role: 'zoomOut' }, { role: 'togglefullscreen' }];
  }
  if (label === 'File') return [separator, platform === 'darwin' ? { role: 'close' } : { role: 'quit' }];
  return [];
}

const keyNames: Readonly<Record<string, string>> = {
  $mod: 'CommandOrControl',
  ArrowUp: 'Up',
  ArrowDown: 'Down',
  ArrowLeft: 'Left',
  ArrowRight: 'Right',
};

/** `$mod+Shift+z` → `CommandOrControl+Shift+Z`, as Electron writes it (Electron's documentation, Keyboard Shortcuts). */
export function acceleratorOf(shortcut: string): string {
  return shortcut
    .split('+')
    .map((key) => keyNames[key] ?? key.replace(/^(Digit|Key)/, ''))
    .map((key) => (key.length === 1 ? key.toUpperCase() : key))
    .join('+');
}
