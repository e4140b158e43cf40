import { PlanContainer } from './PlanContainer.tsx';
import { SectionContainer } from './SectionContainer.tsx';

/** The part from the side, or from above. */
export function Drawings({ picture }: { readonly picture: 'section' | 'plan' }) {
  return picture === 'section' ? <SectionContainer /> : <PlanContainer />;
}
