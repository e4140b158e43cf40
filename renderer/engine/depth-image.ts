import type { Capture, CaptureId } from '../../core/capture/capture.ts';
import { blankPicture, layCapture } from '../../core/drawing/depth-picture.ts';
import { type DepthCapture, depthScan, pictureAt, raysOf } from '../../core/drawing/depth-scan.ts';
import type { Problem } from '../../core/outcome.ts';
import type { DepthImage, DepthImageAsked } from './messages.ts';
import type { Control } from './pauses.ts';
import type { TraceStore } from './trace-store.ts';

/** Captures laid into a picture by true depth, with pauses between them. What keeps the scan from being drawn is answered as its problems, with an empty picture. */
export async function depthImageOf(
  asked: DepthImageAsked,
  captureOf: (id: CaptureId) => Capture,
  traces: TraceStore,
  control: Control,
): Promise<DepthImage> {
  const picture = blankPicture(asked.grid);
  const captures = asked.captures.map(captureOf);
  const scan = depthScan({ ...asked.by, captures: captures.map(depthCapture) });
  const problems: Problem[] = scan.ok ? [] : [...scan.problems];
  const members = scan.ok ? scan.value.members : [];
  const rayOf = scan.ok ? raysOf(scan.value) : null;
  const byId = new Map(captures.map((capture) => [capture.id, capture]));
  for (const [index, member] of members.entries()) {
    const at = pictureAt(member, asked.across);
    const { captureId } = member.capture;
    const stored = at === null ? null : traces.get(byId.get(captureId)!.waveform, asked.conditioning);
    if (stored?.ok && at !== null) {
      const { envelope } = stored.value.trace;
      layCapture(picture, { index, envelope, ray: rayOf!(member), factor: member.factor, at }, asked.onlyLeg);
    } else if (stored !== null && !stored.ok)
      problems.push(...stored.problems.map((p) => ({ ...p, place: { ...p.place, file: captureId } })));
    control.progress({ done: index + 1, total: members.length });
    await control.pause();
  }
  const { percent, leg, capture, sample } = picture;
  return { percent, leg, capture, sample, problems };
}

function depthCapture(capture: Capture): DepthCapture {
  const { id, file, positionMm, acrossMm, takenAt, probe, gainDb, waveform } = capture;
  const { startUs, stepUs, samples } = waveform;
  return {
    captureId: id,
    file,
    positionMm,
    acrossMm,
    takenAt,
    probe,
    gainDb,
    startUs,
    stepUs,
    samples: samples.length,
  };
}
