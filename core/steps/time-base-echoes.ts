import type { CaptureId } from '../capture/capture.ts';
import type { Doubt } from '../doubt.ts';
import type { Timing } from '../gate/gate.ts';
import { numberEchoes } from '../linearity/number-echoes.ts';
import type { UnusedCapture } from '../linearity/part.ts';
import type { PlacedEcho } from '../linearity/time-base.ts';
import { type Problem, problem } from '../outcome.ts';
import type { TimeBaseDecision } from '../review/linearity-decision.ts';
import type { Echo } from '../signal/echoes.ts';
import { type Quantity, rectangularUncertainty } from '../units/quantity.ts';
import { unequalHeights } from './calibrate.ts';
import { refersTo } from './calibration-points.ts';
import type { Examination } from './examine.ts';

/** Where several captures show one echo, that by whose flank it is timed is taken nearest this height (half of the screen, common practice). */
const heightForCrossingPercent = 50;

/** How far from the number that the others give it an echo of a further capture may stand, in spacings. */
const mostOff = 0.25;

/** The echoes of the time base, each at its place, and what was left out. */
export interface PlacedEchoes {
  readonly echoes: readonly PlacedEcho[];
  readonly doubts: readonly Doubt[];
  readonly unused: readonly UnusedCapture[];
  readonly warnings: readonly Problem[];
}

/** What one capture shows at one place. */
interface Candidate {
  readonly captureId: CaptureId;
  readonly timeUs: Quantity | null;
  readonly amplitudePercent: number | null;
  readonly flags: PlacedEcho['flags'];
  readonly from: PlacedEcho['from'];
}

/** Takes the echoes of the decision's reflectors from the captures examined; a reflector without an echo stands without a time and says why. */
export function placedEchoes(decision: TimeBaseDecision, examinations: readonly Examination[]): PlacedEchoes {
  const placed =
    decision.reflectors.kind === 'equally-spaced'
      ? numbered(examinations, decision.timing)
      : known(decision.reflectors.list, examinations, decision.timing);
  const doubts =
    decision.timing === 'crossing' ? unequalHeights(placed.chosen.filter(({ timeUs }) => timeUs !== null)) : [];
  const serving = new Set(placed.chosen.map(({ captureId }) => captureId));
  const unused = examinations
    .filter(({ capture }) => !serving.has(capture.captureId))
    .map(({ capture }) => ({
      captureId: capture.captureId,
      reason: 'another capture shows its echoes better, or it shows none',
    }));
  return { echoes: placed.echoes, doubts, unused, warnings: placed.warnings };
}

interface Placed {
  readonly echoes: readonly PlacedEcho[];
  readonly chosen: readonly Candidate[];
  readonly warnings: readonly Problem[];
}

function known(
  reflectors: Extract<TimeBaseDecision['reflectors'], { kind: 'known-distances' }>['list'],
  examinations: readonly Examination[],
  timing: Timing,
): Placed {
  const chosen: Candidate[] = [];
  const echoes = reflectors.map((reflector, i): PlacedEcho => {
    const candidates = examinations
      .filter(({ capture }) => reflector.capture === null || refersTo(reflector.capture, capture))
      .map(({ capture, readings }): Candidate => {
        const { timeUs, amplitudePercent, flags, from } = readings[i];
        return { captureId: capture.captureId, timeUs, amplitudePercent, flags, from };
      });
    const best = bestOf(candidates, timing);
    if (best?.amplitudePercent != null) chosen.push(best);
    return {
      ...placedAs(
        best,
        timing,
        `no echo between ${reflector.fromUs} and ${reflector.toUs} µs reaches the threshold; move the window or lower the threshold`,
      ),
      place: reflector.distanceMm,
      uPlace: rectangularUncertainty(reflector.toleranceMm),
      name: `${reflector.distanceMm} mm`,
    };
  });
  return { echoes: echoes.sort((a, b) => a.place - b.place), chosen, warnings: [] };
}

/** Echoes of one plate: the capture that shows most of them gives the numbers, the others follow them. */
function numbered(examinations: readonly Examination[], timing: Timing): Placed {
  const series = examinations.map(({ capture, echoes }) => {
    const own = echoes.filter((echo) => !echo.flags.includes('in-dead-zone'));
    return {
      captureId: capture.captureId,
      file: capture.captureId,
      own,
      ringing: echoes.length - own.length,
      numbers: numberEchoes(own.map((echo) => echo.timeUs)),
    };
  });
  const count = (of: (typeof series)[number]) => of.numbers?.numbers.filter((number) => number !== null).length ?? 0;
  const base = series.reduce<(typeof series)[number] | null>(
    (best, of) => (best === null || count(of) > count(best) ? of : best),
    null,
  );
  const warnings: Problem[] = [];
  if (base === null || base.own.length === 0) return { echoes: [], chosen: [], warnings };
  const { spacingUs, numbers } = base.numbers ?? {
    spacingUs: Number.POSITIVE_INFINITY,
    numbers: base.own.map(() => 1),
  };
  const numberedTimes = base.own.flatMap((echo, i) =>
    numbers[i] === null ? [] : [{ number: numbers[i], timeUs: echo.timeUs }],
  );
  const byNumber = new Map<number, Candidate[]>();
  for (const { captureId, own, ringing } of series) {
    const strangers: number[] = [];
    own.forEach((echo, i) => {
      const number = captureId === base.captureId ? numbers[i] : numberAt(echo.timeUs, numberedTimes, spacingUs);
      if (number === null || number < 1) strangers.push(echo.timeUs);
      else byNumber.set(number, [...(byNumber.get(number) ?? []), candidateOf(captureId, echo, timing)]);
    });
    if (strangers.length > 0) {
      const times = strangers.map((time) => time.toFixed(2)).join(', ');
      warnings.push(
        problem(
          'echo-of-no-number',
          { file: captureId },
          `echoes at ${times} µs do not stand in the series and were left out`,
        ),
      );
    }
    if (ringing > 0) {
      const sentence = `${ringing === 1 ? 'an echo' : `${ringing} echoes`} while the main bang still rings ${ringing === 1 ? 'was' : 'were'} left out; the numbers begin after it`;
      warnings.push(problem('echo-in-dead-zone', { file: captureId }, sentence));
    }
  }
  const chosen: Candidate[] = [];
  const last = Math.max(...byNumber.keys());
  const echoes = Array.from({ length: last }, (_, i): PlacedEcho => {
    const best = bestOf(byNumber.get(i + 1) ?? [], timing);
    if (best !== null) chosen.push(best);
    return {
      ...placedAs(best, timing, 'no echo stands where this one should, between its neighbours'),
      place: i + 1,
      uPlace: 0,
      name: `echo ${i + 1}`,
    };
  });
  return { echoes, chosen, warnings };
}

function candidateOf(captureId: CaptureId, echo: Echo, timing: Timing): Candidate {
  const { amplitudePercent, flags, from, flank } = echo;
  const shared = { captureId, amplitudePercent, flags, from };
  if (timing === 'peak') return { ...shared, timeUs: { value: echo.timeUs, standardUncertainty: echo.uTimeUs } };
  return { ...shared, timeUs: flank && { value: flank.timeUs, standardUncertainty: flank.uTimeUs } };
}

/** The number that echoes already numbered give to a time, on the straight line between its neighbours. */
function numberAt(
  timeUs: number,
  known: readonly { readonly number: number; readonly timeUs: number }[],
  spacingUs: number,
): number | null {
  const nearest = known.reduce((best, other) =>
    Math.abs(other.timeUs - timeUs) < Math.abs(best.timeUs - timeUs) ? other : best,
  );
  const away = (timeUs - nearest.timeUs) / spacingUs;
  const steps = Math.round(away);
  return Math.abs(away - steps) > mostOff ? null : nearest.number + steps;
}

/** By peak the highest that is whole; by crossing the one nearest half of the screen, whole or not. */
function bestOf(candidates: readonly Candidate[], timing: Timing): Candidate | null {
  const rank = ({ timeUs, amplitudePercent, flags }: Candidate): number => {
    if (amplitudePercent === null) return Number.NEGATIVE_INFINITY;
    const untimed = timeUs === null ? -1e6 : 0;
    const cutOff = timing === 'peak' && flags.includes('saturated') ? -1e6 : 0;
    const height = timing === 'peak' ? amplitudePercent : -Math.abs(amplitudePercent - heightForCrossingPercent);
    return untimed + cutOff + height;
  };
  return candidates.reduce<Candidate | null>((best, of) => (best === null || rank(of) > rank(best) ? of : best), null);
}

function placedAs(
  best: Candidate | null,
  timing: Timing,
  notFound: string,
): Omit<PlacedEcho, 'place' | 'uPlace' | 'name'> {
  if (best === null || best.amplitudePercent === null)
    return { captureId: null, timeUs: null, flags: best?.flags ?? [], from: null, missing: notFound };
  const { captureId, timeUs, flags, from } = best;
  const missing =
    timing === 'peak' && flags.includes('saturated')
      ? 'the crest is cut off by the screen or the converter, so that its peak cannot be timed; capture it with less gain'
      : timeUs === null
        ? 'its flank does not rise through the threshold by itself, so that it cannot be timed; change the threshold or the gain'
        : null;
  return { captureId, timeUs, flags, from, missing };
}
