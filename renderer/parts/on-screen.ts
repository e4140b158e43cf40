/** Where on the screen the answer is given that the command line takes by an option. */
const places: Readonly<Record<string, string>> = {
  'time-unit': 'at ‘Unit of time’, or choose ‘distance’ for the axis under ‘Columns …’',
  'sample-rate': 'at ‘Sampling rate’',
  'axis-velocity': 'at ‘Velocity it was drawn with’',
  'amplitude-unit': 'at ‘Unit of amplitude’',
  'full-screen': 'at ‘100 % of full screen’',
  'decimal-mark': 'at ‘Decimal mark’',
  'distance-unit': 'at ‘Unit of distance’',
  'zero-level': 'at ‘Base line’',
  rectification: 'at ‘Rectification’',
  'date-order': 'at ‘Order of dates’',
  'axis-column': 'under ‘Columns …’',
  'amplitude-columns': 'under ‘Columns …’',
  'header-line': 'under ‘Columns …’',
};

/** The core's sentences say by which option of the command line something is stated; on screen they say at which field. */
export function onScreen(sentence: string): string {
  return sentence
    .replace(/\((?:give it with )?--([a-z-]+)[^)]*\)/g, (words, option: string) => places[option] ?? words)
    .replace(/with --[a-z-]+(?: and --[a-z-]+)+/g, 'in Import, under ‘Columns …’ of its file');
}
