import type { CaptureId } from '../../core/capture/capture.ts';
import type { IndicationDecision, ScanDecision } from '../../core/review/scan-decision.ts';
import { mergeIndications, type SplitAt, splitIndication } from '../../core/scan/extent.ts';
import type { Indication, ScanResult } from '../../core/steps/scan.ts';

/** An indication as a person takes it up: what was proposed becomes a decision. */
export function decisionOf({ name, captures, fromMm, toMm, taken, notes }: Indication): IndicationDecision {
  return { name, captures: [...captures], fromMm, toMm, taken, notes };
}

/** The scan with one indication taken up or changed; a proposal stands behind those that were decided before. */
export function withIndication(scan: ScanDecision, of: Indication, next: Partial<IndicationDecision>): ScanDecision {
  const at = of.decided ? scan.indications.findIndex(({ name }) => name === of.name) : -1;
  const changed = { ...(at < 0 ? decisionOf(of) : scan.indications[at]!), ...next };
  const indications = at < 0 ? [...scan.indications, changed] : scan.indications.with(at, changed);
  return { ...scan, indications };
}

/** Left to the proposals again. */
export function withoutIndication(scan: ScanDecision, name: string): ScanDecision {
  return { ...scan, indications: scan.indications.filter((one) => one.name !== name) };
}

/** All proposals taken up as they stand. */
export function withAllTakenUp(scan: ScanDecision, indications: readonly Indication[]): ScanDecision {
  const proposed = indications.filter(({ decided }) => !decided);
  return { ...scan, indications: [...scan.indications, ...proposed.map(decisionOf)] };
}

/** Two as one, by the first one's name. */
export function withMerged(scan: ScanDecision, a: Indication, b: Indication, result: ScanResult): ScanDecision {
  const order = result.lines.flatMap(({ stations }) => stations.map(({ captureId }) => captureId));
  const merged = mergeIndications(decisionOf(a), decisionOf(b), order);
  const others = withoutIndication(scan, b.name);
  return withIndication(others, a, merged);
}

/** One as two; `null` where one of them would hold nothing. */
export function withSplit(scan: ScanDecision, of: Indication, at: SplitAt, result: ScanResult): ScanDecision | null {
  const positions = new Map<CaptureId, number>(
    result.lines.flatMap(({ stations }) => stations.map(({ captureId, positionMm }) => [captureId, positionMm])),
  );
  const taken = new Set([...result.indications.map(({ name }) => name), ...scan.indications.map(({ name }) => name)]);
  let second = `${of.name}, second`;
  for (let i = 3; taken.has(second); i++) second = `${of.name}, part ${i}`;
  const parts = splitIndication(decisionOf(of), at, (id) => positions.get(id) ?? 0, second);
  if (parts === null) return null;
  const whole = withIndication(scan, of, parts[0]);
  return { ...whole, indications: [...whole.indications, parts[1]] };
}
