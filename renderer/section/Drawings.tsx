import type { ReactNode } from 'react';
import type { Engine } from '../engine/engine.ts';
import type { TraceFacts } from '../engine/messages.ts';
import { DepthContainer } from './DepthContainer.tsx';
import { PlanContainer } from './PlanContainer.tsx';
import { SectionContainer } from './SectionContainer.tsx';

/** The scan by true depth, the part from the side, or the weld from above. */
export function Drawings({
  picture,
  head,
  engine,
  of,
}: {
  readonly picture: 'depth' | 'section' | 'plan';
  /** The switch to the other pictures. */
  readonly head: ReactNode;
  readonly engine: Engine;
  readonly of: readonly TraceFacts[];
}) {
  switch (picture) {
    case 'depth':
      return <DepthContainer head={head} engine={engine} of={of} />;
    case 'section':
      return <SectionContainer head={head} />;
    case 'plan':
      return <PlanContainer head={head} />;
  }
}
