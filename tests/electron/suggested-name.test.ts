import { describe, expect, it } from 'vitest';
import { suggestedFileName } from '../../electron/suggested-name.ts';

describe('a name that a page suggests to save under', () => {
  it.each([
    ['as it is', 'Frame-12-readings.csv', 'Frame-12-readings.csv'],
    ['letters of any script', 'Prüfung 探傷.ascan-review', 'Prüfung 探傷.ascan-review'],
    ['an ending in capitals', 'A.CSV', 'A.csv'],
    ['an absolute path', '/etc/cron.d/job.csv', 'etc-cron.d-job.csv'],
    ['upwards', '../../.config/autostart/x.csv', 'config-autostart-x.csv'],
    ['upwards, on Windows', '..\\..\\Startup\\x.csv', 'Startup-x.csv'],
    ['a drive', 'C:\\x.csv', 'C--x.csv'],
    ['a stream of a file', 'x.csv:hidden', 'x.csv-hidden.txt'],
    ['hidden', '.bashrc', 'bashrc.txt'],
    ['a program', 'report.exe', 'report.exe.txt'],
    ['a starter of the desktop', 'report.desktop', 'report.desktop.txt'],
    ['a program behind an ending of ours', 'report.csv.scr', 'report.csv.scr.txt'],
    ['a program that looks like a table', 'report\u202Evsc.exe', 'reportvsc.exe.txt'],
    ['an ending behind what cannot be seen', 'a.exe\u200B\0.csv', 'a.exe.csv'],
    ['a device', 'CON.csv', 'unnamed.csv'],
    ['a device with more endings', 'nul.tar.csv', 'unnamed.csv'],
    ['nothing', '', 'unnamed.txt'],
    ['blanks and dots', ' . . ', 'unnamed.txt'],
    ['an ending alone', '.csv', 'unnamed.csv'],
    ['dots and blanks at its end', 'a. . .csv', 'a.csv'],
    ['very long', `${'w'.repeat(900)}.csv`, `${'w'.repeat(120)}.csv`],
  ])('%s', (_name, suggested, name) => {
    expect(suggestedFileName(suggested)).toBe(name);
  });
});
