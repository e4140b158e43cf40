import { publishedStatedRules } from '../../../core/probe/rule.ts';
import { defaultSpectrumSettings, type SpectrumWindow } from '../../../core/probe/window.ts';
import { captureLookup } from '../../../core/report/document.ts';
import { probesDocument, pulseTable } from '../../../core/report/probe-document.ts';
import { csvText } from '../../../core/report/table-text.ts';
import type { ProbesDecision } from '../../../core/review/probes-decision.ts';
import { emptyReview } from '../../../core/review/review.ts';
import { readStatedProbes, readStatedRule } from '../../../core/review/stated-probes.ts';
import type { CaptureFacts, Examination } from '../../../core/steps/examine.ts';
import { concludeProbes, mostWithCurves, type ProbesResult, planForProbes } from '../../../core/steps/probes.ts';
import { type Answer, flagLegend, refuseUnless, trustworthy, warningLines } from '../answer.ts';
import { examineFiles } from '../examine-files.ts';
import { gather, readText, usable } from '../gather.ts';
import { type CommonOptions, conditioningFrom } from '../options.ts';
import { probesWords } from '../probe-words.ts';
import { refuseArgument } from '../refusal.ts';
import { refuseToOverwrite, writeOutput } from '../write-output.ts';

export interface ProbeOptions extends CommonOptions {
  gate?: { from: number; to: number };
  element?: number;
  velocity?: number;
  reference?: string;
  stated?: string;
  rule?: string;
  simpleAcceptance?: boolean;
  window?: SpectrumWindow;
  zeroPadding?: number;
  csv?: string;
  replace?: boolean;
}

/** What `compare` adds. */
export interface ComparisonChoices {
  readonly referenceProbe: string | null;
  /** Whether the first probe is the reference where none is named. */
  readonly firstIsReference: boolean;
  readonly align: ProbesDecision['align'];
  readonly normalised: boolean;
  readonly significance: number;
}

/** Figures of the probe in each capture, and by probe where captures state theirs. */
export function probe(words: readonly string[], options: ProbeOptions): Promise<Answer> {
  return characterise(words, options, {
    referenceProbe: null,
    firstIsReference: false,
    align: 'cross-correlation',
    normalised: true,
    significance: 0.05,
  });
}

export async function characterise(
  words: readonly string[],
  options: ProbeOptions,
  choices: ComparisonChoices,
): Promise<Answer> {
  const { gate, csv } = options;
  if (gate === undefined)
    return refuseArgument('--gate', 'say where the echo is that the probe is measured on, as in --gate 18us..22us');
  if (csv !== undefined) refuseToOverwrite(csv, options.replace === true);
  if (options.rule !== undefined && options.stated === undefined)
    refuseArgument('--rule', 'a rule holds figures against stated ones; give those with --stated');
  const decision: ProbesDecision = {
    captures: [],
    gate: { fromUs: gate.from, toUs: gate.to },
    spectrum: {
      window: options.window ?? defaultSpectrumSettings.window,
      padding: options.zeroPadding ?? defaultSpectrumSettings.padding,
    },
    elementMm: positive('--element', options.element),
    velocityMPerS: positive('--velocity', options.velocity),
    probes:
      options.stated === undefined
        ? []
        : [...usable(readStatedProbes(options.stated, readText(options.stated).text)).value],
    reference: choices.referenceProbe,
    align: choices.align,
    normalised: choices.normalised,
    significance: choices.significance,
    decision: options.simpleAcceptance === true ? 'simple-acceptance' : 'with-uncertainty',
    rule: ruleFrom(options.rule),
  };
  const gathered = await gather(options.reference === undefined ? words : [...words, options.reference], options);
  const review = { ...emptyReview, conditioning: conditioningFrom(options) };
  const wantsCurves = choices.firstIsReference || choices.referenceProbe !== null || options.reference !== undefined;
  const plan = planForProbes(review, decision, wantsCurves && gathered.inputs.length <= mostWithCurves);
  const read = await examineFiles({ ...gathered, plan }, options.jobs ?? null);
  const fatal = [...gathered.problems, ...read.problems];
  refuseUnless(read.examinations.length > 0, fatal);
  const examinations = oncePerCapture(read.examinations);
  const reference = referenceFrom(examinations, options.reference, choices);
  const result = concludeProbes({ ...decision, reference }, examinations, review.conditioning);
  const captures = captureLookup(examinations.map(({ capture }) => capture));
  if (csv !== undefined) {
    const text = csvText(pulseTable(result.captures, captures), '.');
    await writeOutput(csv, text, options.replace === true);
  }
  return answerOf(result, captures, {
    settings: {
      gate_from_us: gate.from,
      gate_to_us: gate.to,
      spectrum: decision.spectrum,
      conditioning: plan.conditioning,
      align: choices.align,
      normalised: choices.normalised,
      significance_percent: 100 * choices.significance,
    },
    problems: [...fatal, ...result.problems],
    warnings: [...gathered.warnings, ...read.warnings, ...result.warnings],
  });
}

function answerOf(
  result: ProbesResult,
  captures: ReturnType<typeof captureLookup>,
  { settings, problems, warnings }: Pick<Answer, 'problems' | 'warnings'> & { readonly settings: object },
): Answer {
  const flags = result.captures.flatMap((pulse) => pulse.flags);
  const passes = result.probes.every(({ outcome }) => outcome === null || outcome === 'pass');
  return {
    document: { ...probesDocument(result, captures), settings, warnings: warningLines(warnings) },
    words: () => probesWords(result, captures) + flagLegend(flags),
    trusted: passes && trustworthy(flags),
    problems,
    warnings,
  };
}

/** The reference may be named among the others, too. */
function oncePerCapture(examinations: readonly Examination[]): Examination[] {
  const seen = new Map(examinations.map((examination) => [examination.capture.captureId, examination]));
  return [...seen.values()];
}

function probeNameOf({ probe: name, captureId }: CaptureFacts): string {
  return name ?? captureId;
}

function referenceFrom(
  examinations: readonly Examination[],
  file: string | undefined,
  { referenceProbe, firstIsReference }: ComparisonChoices,
): string | null {
  if (referenceProbe !== null) return referenceProbe;
  if (file !== undefined) {
    const own = examinations.find(({ capture }) => capture.file === file || capture.captureId === file);
    return own === undefined
      ? refuseArgument('--reference', `no capture of "${file}" could be read`)
      : probeNameOf(own.capture);
  }
  return firstIsReference ? probeNameOf(examinations[0].capture) : null;
}

function positive(name: string, value: number | undefined): number | null {
  if (value === undefined) return null;
  return value > 0 ? value : refuseArgument(name, 'must be above 0');
}

function ruleFrom(words: string | undefined): ProbesDecision['rule'] {
  if (words === undefined) return null;
  if (publishedStatedRules.some(({ name }) => name === words)) return { kind: 'published', name: words };
  if (!/[./\\]/.test(words)) {
    const names = publishedStatedRules.map(({ name }) => name).join(', ');
    return refuseArgument('--rule', `"${words}" is no published rule (${names}), and not the path of a file`);
  }
  const rule = usable(readStatedRule(words, readText(words).text)).value;
  return { kind: 'own', rule: { ...rule, limits: [...rule.limits] } } as ProbesDecision['rule'];
}
