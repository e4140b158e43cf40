import { useDeferredValue, useMemo } from 'react';
import type { Problem } from '../../core/outcome.ts';
import type { LinearityDecision } from '../../core/review/linearity-decision.ts';
import { captureChoices } from '../procedures/capture-choices.ts';
import { useWorkbench } from '../state/workbench.ts';
import { GainSteps } from './GainSteps.tsx';
import { meantBy } from './linearity-decision.ts';
import { ScreenHeightSteps } from './ScreenHeightSteps.tsx';
import { TimeBaseSteps } from './TimeBaseSteps.tsx';
import { useDrawnWindow } from './use-drawn-window.ts';

/** The checks of the instrument's linearity as the workbench has them. */
export function LinearityContainer({ part }: { readonly part: keyof LinearityDecision }) {
  const review = useWorkbench((workbench) => workbench.review);
  // What comes from the worker is drawn between two frames: the trace does not wait for it.
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const isEvaluating = useDeferredValue(useWorkbench((workbench) => workbench.evaluating));
  const captures = useDeferredValue(useWorkbench((workbench) => workbench.captures));
  const selected = useWorkbench((workbench) => workbench.selected);
  const asked = useWorkbench((workbench) => workbench.asked);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const { drawing, onDraw } = useDrawnWindow();
  const choices = useMemo(() => captureChoices(captures.values()), [captures]);
  const { linearity } = review;
  const decision = linearity[part];
  const references = decision?.captures;
  const meant = useMemo(() => meantBy(references ?? [], captures.values()), [references, captures]);
  const common = {
    choices,
    isEvaluating,
    problems: (evaluation?.problems ?? []).filter((problem) => isAbout(problem, part, references ?? [])),
    selected,
    onSelect: actions.select,
    onDraw,
    drawing,
    asked,
    onAsk: actions.ask,
    style,
  };
  const set =
    <Part extends keyof LinearityDecision>(of: Part) =>
    (next: LinearityDecision[Part]) =>
      void actions.edit({ kind: 'set-linearity', linearity: { ...linearity, [of]: next } });
  switch (part) {
    case 'timeBase':
      return (
        <TimeBaseSteps
          {...common}
          decision={linearity.timeBase}
          onDecision={set('timeBase')}
          check={evaluation?.linearity.timeBase ?? null}
        />
      );
    case 'screenHeight':
      return (
        <ScreenHeightSteps
          {...common}
          decision={linearity.screenHeight}
          onDecision={set('screenHeight')}
          check={evaluation?.linearity.screenHeight ?? null}
          captures={meant}
        />
      );
    case 'gain':
      return (
        <GainSteps
          {...common}
          decision={linearity.gain}
          onDecision={set('gain')}
          check={evaluation?.linearity.gain ?? null}
          captures={meant}
        />
      );
  }
}

const places: Readonly<Record<keyof LinearityDecision, readonly string[]>> = {
  timeBase: ['time base', 'linearity'],
  screenHeight: ['screen height', 'linearity'],
  gain: ['gain', 'linearity'],
};

function isAbout({ place, code }: Problem, part: keyof LinearityDecision, references: readonly string[]): boolean {
  // What is wrong with the step table stands in its rows.
  if (code.startsWith('step-')) return false;
  const file = place.file.split('#')[0];
  return (
    places[part].includes(place.file) ||
    references.some((reference) => reference === place.file || reference.split('#')[0] === file)
  );
}
