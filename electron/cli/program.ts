import about from '../../package.json' with { type: 'json' };

/** What a report and a package are said to be made by. */
export const program = { name: 'A-scan workbench', version: about.version } as const;
