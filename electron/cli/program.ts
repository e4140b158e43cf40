import { programName } from '../../core/program-name.ts';
import about from '../../package.json' with { type: 'json' };

/** What a report and a package are said to be made by. */
export const program = { name: programName, version: about.version } as const;
