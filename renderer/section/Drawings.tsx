import type { ReactNode } from 'react';
import { PlanContainer } from './PlanContainer.tsx';
import { SectionContainer } from './SectionContainer.tsx';

/** The part from the side, or from above. */
export function Drawings({
  picture,
  head,
}: {
  readonly picture: 'section' | 'plan';
  /** The switch to the other pictures. */
  readonly head: ReactNode;
}) {
  return picture === 'section' ? <SectionContainer head={head} /> : <PlanContainer head={head} />;
}
