import { join } from 'node:path';
import { app } from 'electron';
import * as v from 'valibot';
import { answerCalls } from './answer-calls.ts';
import { carryOut } from './carry-out.ts';
import { sweepLeftovers } from './disk/leftovers.ts';
import { drafts } from './drafts.ts';
import { files } from './files.ts';
import { kept } from './kept.ts';
import { reviewToOpen } from './launch.ts';
import { tokens } from './tokens.ts';
import { denyNavigation, denyPermissions, registerScheme, servePage } from './window.ts';
import { windowStateSchema } from './window-state.ts';
import { windows } from './windows.ts';

const root = app.getAppPath();
const profile = (name: string): string => join(app.getPath('userData'), name);

registerScheme();
app.enableSandbox();
denyNavigation();
app.on('window-all-closed', () => app.quit());

// One program for all windows, so that one knows of the other's draft; a second start only asks the first for a window.
if (app.requestSingleInstanceLock()) {
  const opened = windows(
    join(root, 'build/preload.cjs'),
    kept(profile('window.json'), v.nullable(windowStateSchema), null),
  );
  let given = reviewToOpen(process.argv.slice(app.isPackaged ? 0 : 1), process.cwd());

  app.on('second-instance', (_event, words, folder) => {
    const review = reviewToOpen(words, folder);
    if (review === null) opened.focus();
    else void opened.open(review);
  });
  // macOS names a double-clicked file by this event, which may come before the application is ready.
  app.on('open-file', (event, path) => {
    event.preventDefault();
    if (app.isReady()) void opened.open(path);
    else given = path;
  });

  void app.whenReady().then(() => {
    const known = tokens();
    const own = files(known, kept(profile('written.json'), v.array(v.string()), []));
    // Nobody waits for it: what a sudden end cut off is in no one's way.
    for (const folder of ['.', 'drafts']) void sweepLeftovers(profile(folder));
    void own.sweep();
    servePage({ page: join(root, 'build/renderer'), sample: join(root, 'sample-data') });
    denyPermissions();
    answerCalls(
      carryOut({
        tokens: known,
        files: own,
        drafts: drafts(profile('drafts')),
        profile,
        openWindows: opened.all,
        now: () => new Date(),
      }),
      opened.of,
    );
    return opened.open(given);
  });
} else {
  app.quit();
}
