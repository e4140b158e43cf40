import type { VerdictOutcome } from '../../../core/check/verdict.ts';
import type { Flag } from '../../../core/flag.ts';
import type { Problem } from '../../../core/outcome.ts';
import type { CaptureLookup } from '../../../core/report/document.ts';
import { captureLookup } from '../../../core/report/document.ts';
import { gainDocument, screenHeightDocument, timeBaseDocument } from '../../../core/report/linearity-document.ts';
import type { GainDecision, ScreenHeightDecision, TimeBaseDecision } from '../../../core/review/linearity-decision.ts';
import { emptyReview, type Reflector } from '../../../core/review/review.ts';
import type { Examination, Plan } from '../../../core/steps/examine.ts';
import {
  concludeGain,
  concludeScreenHeight,
  concludeTimeBase,
  planForGain,
  planForScreenHeight,
  planForTimeBase,
} from '../../../core/steps/linearity.ts';
import { type Answer, flagLegend, refuseUnless, trustworthy, warningLines } from '../answer.ts';
import { examineFiles } from '../examine-files.ts';
import { gather, usable } from '../gather.ts';
import { linearityRuleFrom, type StepsGiven, stepsFrom } from '../linearity-arguments.ts';
import { gainWords, screenHeightWords, timeBaseWords } from '../linearity-words.ts';
import { type CommonOptions, conditioningFrom } from '../options.ts';
import { refuseArgument } from '../refusal.ts';

interface Span {
  from: number;
  to: number;
}

interface CheckOptions extends CommonOptions {
  rule?: string;
  simpleAcceptance?: boolean;
  threshold?: number;
  window?: Span;
}

export interface TimeBaseOptions extends CheckOptions {
  above?: number;
  spacing?: number;
  reflector?: readonly Reflector[];
  tolerance?: number;
  range?: NonNullable<TimeBaseDecision['range']>;
  timing?: TimeBaseDecision['timing'];
  line?: TimeBaseDecision['line'];
}

export interface ScreenHeightOptions extends CheckOptions {
  larger?: Span;
  smaller?: Span;
  steps?: string;
}

export interface GainOptions extends CheckOptions {
  steps?: string;
}

const decisionRule = (options: CheckOptions) =>
  options.simpleAcceptance === true ? ('simple-acceptance' as const) : ('with-uncertainty' as const);
const windowOf = ({ from, to }: Span) => ({ fromUs: from, toUs: to });

/** Whether equal distances stand equally far apart. */
export async function timeBase(words: readonly string[], options: TimeBaseOptions): Promise<Answer> {
  const decision = timeBaseDecision(options);
  const review = { ...emptyReview, conditioning: conditioningFrom(options) };
  const examined = await examinedFiles(words, options, planForTimeBase(review, decision));
  const check = usable(concludeTimeBase(decision, examined.examinations)).value;
  return answer(examined, check, {
    document: (captures) => timeBaseDocument(check, captures),
    words: (captures) => timeBaseWords(check, captures),
    problems: [],
  });
}

function timeBaseDecision(options: TimeBaseOptions): TimeBaseDecision {
  const reflectors = options.reflector ?? [];
  if ((options.window === undefined) === (reflectors.length === 0))
    refuseArgument(
      '--window',
      'give the window of the back-wall echoes of one plate, as in --window 5us..95us, or each known reflector, as in --reflector 25mm@7us..11us: one or the other',
    );
  if (options.spacing !== undefined && reflectors.length > 0)
    refuseArgument(
      '--spacing',
      'known reflectors have their distances; the spacing belongs to equally spaced echoes in one --window',
    );
  return {
    captures: [],
    reflectors:
      options.window === undefined
        ? {
            kind: 'known-distances',
            list: reflectors.map((reflector) => ({ ...reflector, toleranceMm: options.tolerance ?? 0 })),
          }
        : {
            kind: 'equally-spaced',
            ...windowOf(options.window),
            abovePercent: options.above ?? 5,
            spacingMm: options.spacing ?? null,
          },
    timing: options.timing ?? 'peak',
    thresholdPercent: options.threshold ?? (options.timing === 'crossing' ? 20 : 5),
    range: options.range ?? null,
    line: options.line ?? 'end-points',
    decision: decisionRule(options),
    rule: linearityRuleFrom(options.rule, 'time-base'),
  };
}

/** Whether an echo half as high is shown half as high: by two echoes, or by one stepped by the gain. */
export async function screenHeight(words: readonly string[], options: ScreenHeightOptions): Promise<Answer> {
  const shared = {
    captures: [],
    thresholdPercent: options.threshold ?? 2,
    decision: decisionRule(options),
    rule: linearityRuleFrom(options.rule, 'screen-height'),
  };
  const review = { ...emptyReview, conditioning: conditioningFrom(options) };
  const open = heightDecision(options, shared);
  const examined = await examinedFiles(words, options, planForScreenHeight(review, open));
  const steps = stepsFrom(
    options.steps,
    examined.examinations.map(({ capture }) => capture),
  );
  const decision: ScreenHeightDecision = open.form === 'two-echo' ? open : { ...open, steps: steps.table };
  const check = usable(concludeScreenHeight(decision, examined.examinations)).value;
  return answer(examined, check, {
    document: (captures) => screenHeightDocument(check, captures),
    words: (captures) => screenHeightWords(check, captures),
    problems: check.form === 'two-echo' ? [] : faultsOf(steps, check),
  });
}

function heightDecision(
  { window, larger, smaller, steps }: ScreenHeightOptions,
  shared: Pick<ScreenHeightDecision, 'captures' | 'thresholdPercent' | 'decision' | 'rule'>,
): ScreenHeightDecision {
  if (larger !== undefined && smaller !== undefined && window === undefined) {
    if (steps !== undefined)
      refuseArgument(
        '--steps',
        'two echoes in a fixed ratio need no step table; it belongs to one echo, with --window',
      );
    return { form: 'two-echo', larger: windowOf(larger), smaller: windowOf(smaller), ...shared };
  }
  if (window !== undefined && larger === undefined && smaller === undefined)
    return { form: 'stepped-gain', window: windowOf(window), steps: null, ...shared };
  return refuseArgument(
    '--window',
    'give the windows of two echoes in ratio 2 to 1, as in --larger 10us..12us --smaller 13us..15us, or of the one that is stepped by the gain, as in --window 10us..12us',
  );
}

/** Whether so many dB of gain are so many dB of height. */
export async function gain(words: readonly string[], options: GainOptions): Promise<Answer> {
  if (options.window === undefined)
    return refuseArgument('--window', 'give the window of the echo, as in --window 10us..12us');
  const open: GainDecision = {
    captures: [],
    window: windowOf(options.window),
    steps: null,
    thresholdPercent: options.threshold ?? 2,
    decision: decisionRule(options),
    rule: linearityRuleFrom(options.rule, 'gain'),
  };
  const review = { ...emptyReview, conditioning: conditioningFrom(options) };
  const examined = await examinedFiles(words, options, planForGain(review, open));
  const steps = stepsFrom(
    options.steps,
    examined.examinations.map(({ capture }) => capture),
  );
  const check = usable(concludeGain({ ...open, steps: steps.table }, examined.examinations)).value;
  return answer(examined, check, {
    document: (captures) => gainDocument(check, captures),
    words: (captures) => gainWords(check, captures),
    problems: faultsOf(steps, check),
  });
}

function faultsOf(
  steps: StepsGiven,
  {
    faults,
  }: { readonly faults: Parameters<StepsGiven['located']>[0][] | readonly Parameters<StepsGiven['located']>[0][] },
): Problem[] {
  return [...steps.problems, ...faults.map(steps.located)].sort((a, b) => (a.place.line ?? 0) - (b.place.line ?? 0));
}

interface ExaminedInput {
  readonly examinations: readonly Examination[];
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
}

async function examinedFiles(words: readonly string[], options: CommonOptions, plan: Plan): Promise<ExaminedInput> {
  const gathered = await gather(words, options);
  const examined = await examineFiles({ ...gathered, plan }, options.jobs ?? null);
  const problems = [...gathered.problems, ...examined.problems];
  refuseUnless(examined.examinations.length > 0, problems);
  return { examinations: examined.examinations, problems, warnings: [...gathered.warnings, ...examined.warnings] };
}

/** A check passes or has no limits, and none of its readings is to be doubted. */
function answer(
  { examinations, problems, warnings: found }: ExaminedInput,
  check: {
    readonly outcome: VerdictOutcome | null;
    readonly flags: readonly Flag[];
    readonly warnings: readonly Problem[];
  },
  say: {
    readonly document: (captures: CaptureLookup) => object;
    readonly words: (captures: CaptureLookup) => string;
    readonly problems: readonly Problem[];
  },
): Answer {
  const captures = captureLookup(examinations.map(({ capture }) => capture));
  const warnings = [...found, ...check.warnings];
  return {
    document: { ...say.document(captures), warnings: warningLines(warnings) },
    words: () => say.words(captures) + flagLegend(check.flags),
    trusted: (check.outcome === null || check.outcome === 'pass') && trustworthy(check.flags),
    problems: [...problems, ...say.problems],
    warnings,
  };
}
