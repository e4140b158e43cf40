import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const start = fileURLToPath(new URL('../../electron/start.mjs', import.meta.url));

// Elsewhere than on Linux a window needs no display variable, and this would open one.
it.runIf(process.platform === 'linux')(
  'without a display, npm start says why in one line, serves the page and prints its address',
  async () => {
    const { DISPLAY: _, WAYLAND_DISPLAY: __, ...env } = process.env;
    const running = spawn(process.execPath, [start], { env, stdio: ['ignore', 'pipe', 'inherit'] });
    try {
      const line = await new Promise<string>((resolve, reject) => {
        let said = '';
        running.stdout.setEncoding('utf8').on('data', (text: string) => {
          said += text;
          if (said.includes('\n')) resolve(said);
        });
        running.on('exit', (status) => reject(new Error(`npm start ended with status ${status}`)));
      });
      expect(line).toMatch(/^There is no display here, so .* at http:\/\/127\.0\.0\.1:\d+\/ until Ctrl\+C\.\n$/);
      const address = line.match(/http:\S+/)?.[0] ?? '';
      expect(await (await fetch(address)).text()).toContain('<title>A-scan workbench</title>');
      expect((await fetch(`${address}sample/reference-block.csv`)).status).toBe(200);
    } finally {
      running.kill();
    }
  },
);
