import { describe, expect, it } from 'vitest';
import { emptyReview } from '../../core/review/review.ts';
import { menusToShow, windowTitle } from '../../renderer/shell/use-own-window.ts';
import {
  type CommandState,
  carryOut,
  commandState,
  type Doing,
  isEnabled,
  isShown,
  labelOf,
  menus,
} from '../../renderer/state/command.ts';
import { commands } from '../../renderer/state/commands.ts';

const empty: CommandState = {
  review: emptyReview,
  name: null,
  unsaved: false,
  saving: false,
  undoName: null,
  redoName: null,
  captures: new Map(),
  selected: null,
  overlaid: [],
  selectedGate: null,
  drawingGate: false,
  traceMode: 'rf',
  envelope: false,
  importing: null,
  evaluating: false,
  recent: [],
};

const withCaptures: CommandState = {
  ...empty,
  captures: new Map(['a', 'b', 'c'].map((id) => [id, {}])) as unknown as CommandState['captures'],
  selected: 'b',
};

const command = (id: string) => commands.find((one) => one.id === id)!;

/** The workbench and the page around it, writing down what they are asked. */
function doing(state: CommandState, mayLeave = true): { doing: Doing; asked: string[] } {
  const asked: string[] = [];
  const noting = (prefix: string) =>
    new Proxy(
      {},
      {
        get:
          (_, name) =>
          (...given: unknown[]) =>
            asked.push([prefix + String(name), ...given.map((one) => JSON.stringify(one))].join(' ')),
      },
    );
  const shell = noting('page ') as Doing['shell'];
  const workbench = { ...state, actions: noting('') } as unknown as Doing['workbench'];
  const leave = (goOn: () => void) => {
    asked.push('page leave');
    if (mayLeave) goOn();
  };
  return { doing: { workbench, shell: { ...methods(shell), leave } }, asked };
}

function methods(shell: Doing['shell']): Doing['shell'] {
  const { show, toggle, openProcedures, leave } = shell;
  return { show, toggle, openProcedures, leave };
}

describe('the list of commands', () => {
  it('has every command once, in a menu that there is, with a label', () => {
    expect(new Set(commands.map(({ id }) => id)).size).toBe(commands.length);
    expect(commands.filter(({ menu }) => !menus.includes(menu))).toEqual([]);
    for (const state of [empty, withCaptures]) {
      expect(commands.filter((one) => isShown(one, state) && labelOf(one, state).trim() === '')).toEqual([]);
    }
  });

  it('gives no shortcut to two commands', () => {
    const shortcuts = commands.flatMap((one) => one.shortcuts ?? []).map((one) => one.toLowerCase());
    expect(shortcuts.filter((one, i) => shortcuts.indexOf(one) !== i)).toEqual([]);
  });

  it('takes no shortcut that types a letter: each has a modifier or is a function key', () => {
    const bare = commands.flatMap((one) => one.shortcuts ?? []).filter((one) => !/^(\$mod|Alt)\+|^F\d/.test(one));
    expect(bare).toEqual([]);
  });

  it('leaves undo and the letters of Alt to text fields', () => {
    const inFields = commands.filter((one) => one.inTextFields).flatMap((one) => one.shortcuts ?? []);
    expect(inFields).not.toContain('$mod+z');
    expect(inFields.filter((one) => one.includes('Alt'))).toEqual([]);
  });
});

describe('labels', () => {
  it.each([
    ['undo', { undoName: "move gate 'root'" }, "Undo: move gate 'root'"],
    ['undo', {}, 'Undo'],
    ['redo', { redoName: 'set calibration' }, 'Redo: set calibration'],
    ['remove-gate', { selectedGate: 'root' }, "Remove gate 'root'"],
    ['draw-gate', { drawingGate: true }, 'Stop drawing a gate'],
    ['trace-mode', {}, 'Show the trace rectified'],
    ['trace-mode', { traceMode: 'rectified' }, 'Show the trace as RF'],
    ['envelope', { envelope: true }, 'Hide the envelope'],
    ['open-recent-1', { recent: [{ id: 'x', name: 'plate.json', at: '' }] }, 'Open plate.json'],
  ] as const)('%s with %o: %s', (id, part, label) => {
    expect(labelOf(command(id), { ...empty, ...part })).toBe(label);
  });
});

describe('what can be done', () => {
  it.each([
    ['nothing to undo', 'undo', empty, false],
    ['something to undo', 'undo', { ...empty, undoName: 'change title' }, true],
    ['a save that goes on', 'save', { ...empty, saving: true }, false],
    ['no capture chosen', 'draw-gate', empty, false],
    ['a capture chosen', 'draw-gate', withCaptures, true],
    ['no gate chosen', 'remove-gate', withCaptures, false],
    ['nothing laid over', 'overlay-none', withCaptures, false],
    ['nothing taken in', 'cancel-import', empty, false],
    ['files taken in', 'cancel-import', { ...empty, importing: { what: 'Reading', done: 1, total: 3 } }, true],
    ['no recent review', 'open-recent-1', empty, false],
  ])('%s: %s', (_name, id, state, can) => {
    expect(isEnabled(command(id), state)).toBe(can);
  });

  it('what cannot be done is not carried out, whoever asks', () => {
    const { doing: with_, asked } = doing(empty);
    expect(carryOut(command('undo'), with_)).toBe(false);
    expect(asked).toEqual([]);
  });

  it.each([
    ['save', withCaptures, ['save']],
    ['next-capture', withCaptures, ['select "c"']],
    ['previous-capture', withCaptures, ['select "a"']],
    ['next-capture', { ...withCaptures, selected: 'c' }, []],
    ['next-capture', { ...withCaptures, selected: null }, ['select "a"']],
    ['go-to-drift', withCaptures, ['setProcedure "drift"', 'page openProcedures']],
    ['remove-gate', { ...withCaptures, selectedGate: 'root' }, ['edit {"kind":"remove-gate","name":"root"}']],
    ['envelope', withCaptures, ['setEnvelope true']],
    ['trace-mode', withCaptures, ['setTraceMode "rectified"']],
    ['palette', empty, ['page show "palette"']],
    ['captures-panel', empty, ['page toggle "captures"']],
  ])('%s asks for %j', (id, state, wanted) => {
    const { doing: with_, asked } = doing(state as CommandState);
    expect(carryOut(command(id), with_)).toBe(true);
    expect(asked).toEqual(wanted);
  });

  it.each(['new-review', 'open-review', 'open-sample', 'open-recent-1'])(
    '%s asks before unsaved work is left, and does nothing where the person stays',
    (id) => {
      const state = { ...empty, unsaved: true, recent: [{ id: 'x', name: 'plate.json', at: '' }] };
      const stays = doing(state, false);
      carryOut(command(id), stays.doing);
      expect(stays.asked).toEqual(['page leave']);
      const goes = doing(state);
      carryOut(command(id), goes.doing);
      expect(goes.asked).toHaveLength(2);
    },
  );
});

describe('the window', () => {
  it('has the commands of the list in its menus, as they are shown now', () => {
    const told = menusToShow({ ...withCaptures, undoName: 'change title' });
    expect(told.map(({ label }) => label)).toEqual([...menus]);
    const items = told.flatMap((menu) => menu.items);
    expect(items.map(({ id }) => id)).toEqual(
      menus.flatMap((menu) =>
        commands.filter((one) => one.menu === menu && isShown(one, withCaptures)).map(({ id }) => id),
      ),
    );
    expect(items.find(({ id }) => id === 'undo')).toEqual({
      id: 'undo',
      label: 'Undo: change title',
      shortcut: '$mod+z',
      enabled: true,
      apart: false,
    });
  });

  it.each([
    [{}, 'A-scan workbench'],
    [{ name: 'plate.json' }, 'plate.json – A-scan workbench'],
    [{ name: 'plate.json', review: { ...emptyReview, title: 'Plate weld' } }, 'Plate weld – A-scan workbench'],
    [{ name: 'plate.json', unsaved: true }, 'Unsaved – plate.json – A-scan workbench'],
  ])('with %o is called %s', (part, title) => {
    expect(windowTitle({ ...empty, ...part })).toBe(title);
  });

  it('hears of nothing that its menus do not depend on', () => {
    const more = { ...withCaptures, view: { fromUs: 0, toUs: 1 }, cursors: {} };
    expect(commandState(more)).toEqual(withCaptures);
  });
});
