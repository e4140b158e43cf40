import { join } from 'node:path';
import { app } from 'electron';
import { answerCalls } from './answer-calls.ts';
import { openSample } from './sample.ts';
import { denyNavigation, denyPermissions, openWindow, registerScheme, servePage } from './window.ts';

const root = app.getAppPath();
const folders = { page: join(root, 'build/renderer'), sample: join(root, 'sample-data') };

registerScheme();
app.enableSandbox();
denyNavigation();
app.on('window-all-closed', () => app.quit());

void app.whenReady().then(() => {
  servePage(folders);
  denyPermissions();
  answerCalls({
    openSample: (name) => openSample(folders.sample, name),
    about: async () => ({ version: app.getVersion() }),
  });
  openWindow(join(root, 'build/preload.cjs'));
});
