import { Toggle } from '../parts/Choice.tsx';
import type { Scale } from './shading.ts';

const options = [
  { id: 'percent', label: '%' },
  { id: 'decibel', label: 'dB' },
] as const;

/** What a picture's shades tell: heights in % of full screen, or in dB. */
export function ShadesToggle(props: { readonly chosen: Scale; readonly onChoose: (scale: Scale) => void }) {
  return <Toggle label="Shades" hideLabel options={options} {...props} />;
}
