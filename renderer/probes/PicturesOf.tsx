import { laterPart } from '../shell/later-part.ts';

/** Pictures of probes come when they are wanted, or when the page has nothing else to do. */
const pictures = laterPart(() => import('./PicturesOfProbes.tsx'));

type Props = Parameters<Awaited<ReturnType<typeof pictures.load>>['PicturesOfProbes']>[0];

/** What stands below the trace while probes or a material are looked at. */
export function PicturesOf(props: Props) {
  const part = pictures.usePart(true);
  return part === null ? null : <part.PicturesOfProbes {...props} />;
}
