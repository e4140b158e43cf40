import type { Host } from '../host/host.ts';
import { IndicationContainer } from './IndicationContainer.tsx';
import { LocationContainer } from './LocationContainer.tsx';
import { PartContainer } from './PartContainer.tsx';

export type PartProcedure = 'part' | 'location' | 'indications';

/** What a technician works with once the part is examined: its shape, where echoes lie in it, what of them is an indication. */
export function PartProcedures({ procedure, host }: { readonly procedure: PartProcedure; readonly host: Host }) {
  switch (procedure) {
    case 'part':
      return <PartContainer />;
    case 'location':
      return <LocationContainer host={host} />;
    case 'indications':
      return <IndicationContainer host={host} />;
  }
}
