/** Units that a quantity on the command line may bear, in mm, µs, MHz, m/s, degrees; read from the fixed description of the command line. */
const units: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: 25.4,
  inch: 25.4,
  '"': 25.4,
  us: 1,
  µs: 1,
  μs: 1,
  ns: 1 / 1000,
  ms: 1000,
  s: 1e6,
  mhz: 1,
  khz: 1 / 1000,
  ghz: 1000,
  hz: 1e-6,
  'ms/s': 1,
  'gs/s': 1000,
  'ks/s': 1 / 1000,
  'm/s': 1,
  'mm/us': 1000,
  'mm/µs': 1000,
  'km/s': 1000,
  'in/us': 25400,
  'in/µs': 25400,
  deg: 1,
  '°': 1,
  db: 1,
  '%': 1,
  '': 1,
};

/** The numbers that a word can mean, whatever is asked for: with the unit it bears, or plainly. None where it is no quantity. */
export function slowQuantity(word: string): readonly number[] {
  const text = word.trim();
  let end = 0;
  while (end < text.length && '+-0123456789.eE'.includes(text[end])) end++;
  for (; end > 0; end--) {
    const number = text.slice(0, end);
    const unit = text.slice(end).trim();
    const known = Object.keys(units).filter((name) => name === unit || name.toLowerCase() === unit.toLowerCase());
    if (Number.isNaN(Number(number)) || number.trim() === '' || known.length === 0) continue;
    // Both meanings of `ms` and `MS/s` are kept apart by what is asked for; only their values matter here.
    return known.map((name) => Number(number) * units[name]);
  }
  return [];
}
