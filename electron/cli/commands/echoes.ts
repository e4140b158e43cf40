import { echoesDocument } from '../../../core/report/document.ts';
import { formatNumber } from '../../../core/units/format-quantity.ts';
import { type Answer, flagLegend, refuseUnless, warningLines } from '../answer.ts';
import { examineFiles } from '../examine-files.ts';
import { gather } from '../gather.ts';
import { type CommonOptions, conditioningFrom } from '../options.ts';
import { left, right, table } from '../table.ts';

export interface EchoesOptions extends CommonOptions {
  from?: number;
  to?: number;
  above?: number;
}

/** The echoes found in each capture. They are found, not read: a doubt about one of them does not fail the command. */
export async function echoes(words: readonly string[], options: EchoesOptions): Promise<Answer> {
  const gathered = await gather(words, options);
  const settings = { abovePercent: options.above ?? 5, fromUs: options.from ?? null, toUs: options.to ?? null };
  const plan = {
    conditioning: conditioningFrom(options),
    echoes: settings,
    flankPercent: null,
    gates: [],
    timing: 'peak',
    calibration: null,
    beam: null,
    uAngleDeg: null,
  } as const;
  const examined = await examineFiles({ ...gathered, plan }, options.jobs ?? null);
  const problems = [...gathered.problems, ...examined.problems];
  const { examinations } = examined;
  refuseUnless(examinations.length > 0, problems);
  const warnings = [...gathered.warnings, ...examined.warnings];
  const behindBang = examinations.map(({ capture, echoes: found }) => ({
    capture,
    found: found.filter((echo) => !echo.flags.includes('in-dead-zone')),
  }));
  const inDeadZone =
    examinations.reduce((sum, e) => sum + e.echoes.length, 0) - behindBang.reduce((sum, e) => sum + e.found.length, 0);
  const rows = behindBang.flatMap(({ capture, found }) =>
    found.map((echo, i) => [
      capture.file,
      capture.trace,
      String(i + 1),
      formatNumber(echo.timeUs, 4),
      formatNumber(echo.uTimeUs, 4),
      formatNumber(echo.amplitudePercent, 1),
      formatNumber(echo.onsetUs, 3),
      formatNumber(echo.signalToNoiseDb, 1),
      echo.flags.join(', '),
    ]),
  );
  const columns = [
    left('file'),
    left('trace'),
    right('echo'),
    right('time µs'),
    right('u µs'),
    right('% FSH'),
    right('onset µs'),
    right('S/N dB'),
    left('flags'),
  ];
  const remark =
    inDeadZone === 0 ? '' : `\n\nLeft out of this table: ${inDeadZone} maxima of the main bang, in the dead zone.`;
  const legend = flagLegend(behindBang.flatMap((e) => e.found.flatMap((echo) => echo.flags)));
  return {
    document: {
      ...echoesDocument(examinations),
      settings: { above_percent: settings.abovePercent, conditioning: plan.conditioning },
      warnings: warningLines(warnings),
    },
    words: () => (rows.length === 0 ? 'No echo reaches the height asked for.' : table(columns, rows)) + remark + legend,
    trusted: true,
    problems,
    warnings,
  };
}
