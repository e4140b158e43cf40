import type { Reflector, Review } from '../../core/review/review.ts';
import { refersTo } from '../../core/steps/calibration-points.ts';
import type { TraceFacts } from '../engine/messages.ts';
import type { Procedure } from '../state/workbench-state.ts';
import type { ShownReflector } from './trace-props.ts';

interface Named {
  readonly name: string;
  readonly fromUs: number;
  readonly toUs: number;
}

/** Where the procedure in sight looks into a capture that it uses; `null` where it is one without windows of its own. */
export function shownWindows(
  review: Review,
  procedure: Procedure,
  { id: captureId, file, probe = null }: Pick<TraceFacts, 'id' | 'file'> & { readonly probe?: string | null },
): readonly ShownReflector[] | null {
  const isMeant = (reference: string) => refersTo(reference, { captureId, file });
  const within = (references: readonly string[] | undefined) => references?.some(isMeant) === true;
  const reflectors = (list: readonly Reflector[]): ShownReflector[] =>
    list.filter(({ capture }) => capture === null || isMeant(capture));
  const named = (list: readonly Named[]): ShownReflector[] =>
    list.filter(({ fromUs, toUs }) => fromUs < toUs).map((window) => ({ ...window, distanceMm: 0 }));
  const { timeBase, screenHeight, gain } = review.linearity;
  switch (procedure) {
    case 'drift':
      return within(review.drift?.captures) ? reflectors(review.drift?.reflectors ?? []) : null;
    case 'time-base':
      if (timeBase === null || !within(timeBase.captures)) return [];
      return timeBase.reflectors.kind === 'known-distances'
        ? reflectors(timeBase.reflectors.list)
        : named([{ name: 'back-wall echoes', ...timeBase.reflectors }]);
    case 'screen-height':
      if (screenHeight === null || !within(screenHeight.captures)) return [];
      return screenHeight.form === 'two-echo'
        ? named([
            { name: 'larger echo', ...screenHeight.larger },
            { name: 'smaller echo', ...screenHeight.smaller },
          ])
        : named([{ name: 'echo', ...screenHeight.window }]);
    case 'gain':
      return gain !== null && within(gain.captures) ? named([{ name: 'echo', ...gain.window }]) : [];
    case 'sensitivity': {
      const { curve = null, attenuation = null } = review.sensitivity ?? {};
      return [
        ...(within(curve?.captures) ? reflectors(curve?.reflectors ?? []) : []),
        ...(attenuation !== null && within(attenuation.captures)
          ? reflectors([attenuation.near, attenuation.far])
          : []),
      ];
    }
    case 'probes':
    case 'comparison': {
      const { probes } = review;
      if (probes === null || !within(probes.captures)) return [];
      const gates = [{ name: 'gate', ...probes.gate }].concat(
        probe === null
          ? []
          : probes.probes.flatMap(({ name, gate }) =>
              gate && name === probe ? { name: `gate of ${name}`, ...gate } : [],
            ),
      );
      return named(gates.slice(-1));
    }
    case 'material':
      return review.material !== null && within(review.material.captures)
        ? named(
            review.material.echoes.map(({ multiple, ...window }) => ({
              name: `back-wall echo ${multiple}`,
              ...window,
            })),
          )
        : [];
    default:
      return null;
  }
}
