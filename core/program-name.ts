/** What a report and a package are said to be made by, whoever makes them. */
export const programName = 'A-scan workbench';
