import { echoesDocument } from '../../../core/report/document.ts';
import type { Echo } from '../../../core/signal/echoes.ts';
import { type Examination, planFor } from '../../../core/steps/examine.ts';
import { formatNumber } from '../../../core/units/format-quantity.ts';
import { eachInput } from '../each-input.ts';
import { gather } from '../gather.ts';
import { type LargeJobOptions, mannerFrom } from '../large-job.ts';
import { conditioningFrom } from '../options.ts';
import type { Addition, StreamedAnswer } from '../streamed-answer.ts';
import { left, right } from '../table.ts';

export interface EchoesOptions extends LargeJobOptions {
  from?: number;
  to?: number;
  above?: number;
}

/** The echoes found in each capture. They are found, not read: a doubt about one of them does not fail the command. */
export async function echoes(words: readonly string[], options: EchoesOptions): Promise<StreamedAnswer> {
  const gathered = await gather(words, options);
  const settings = { abovePercent: options.above ?? 5, fromUs: options.from ?? null, toUs: options.to ?? null };
  const plan = planFor({ conditioning: conditioningFrom(options) }, { echoes: settings });
  const work = { ...gathered, wanted: { kind: 'examinations', plan } } as const;
  const all = eachInput(work, mannerFrom(options, work));
  let inDeadZone = 0;
  async function* additions(): AsyncGenerator<Addition> {
    for await (const { examinations, warnings, problems } of all) {
      const found = examinations.flatMap((e) => e.echoes.filter((echo) => !isInDeadZone(echo)));
      inDeadZone += examinations.reduce((sum, e) => sum + e.echoes.filter(isInDeadZone).length, 0);
      yield {
        elements: echoesDocument(examinations).captures,
        rows: () => examinations.flatMap(rowsOf),
        flags: found.flatMap((echo) => echo.flags),
        warnings,
        problems,
        isUsable: examinations.length > 0,
      };
    }
  }
  return {
    list: 'captures',
    element: 'capture',
    columns,
    noRows: 'No echo reaches the height asked for.',
    problems: gathered.problems,
    warnings: gathered.warnings,
    additions: additions(),
    end: () => ({
      document: { settings: { above_percent: settings.abovePercent, conditioning: plan.conditioning } },
      words:
        inDeadZone === 0 ? '' : `\n\nLeft out of this table: ${inDeadZone} maxima of the main bang, in the dead zone.`,
      trusted: true,
      warnings: [],
      problems: [],
    }),
  };
}

const isInDeadZone = ({ flags }: Echo): boolean => flags.includes('in-dead-zone');

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

function rowsOf({ capture, echoes: found }: Examination): string[][] {
  return found
    .filter((echo) => !isInDeadZone(echo))
    .map((echo, i) => [
      capture.file,
      capture.trace,
      String(i + 1),
      formatNumber(echo.timeUs, 4),
      formatNumber(echo.uTimeUs, 4),
      formatNumber(echo.amplitudePercent, 1),
      formatNumber(echo.onsetUs, 3),
      formatNumber(echo.signalToNoiseDb, 1),
      echo.flags.join(', '),
    ]);
}
