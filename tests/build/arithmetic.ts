/**
 * Works out a formula as it stands on the screen, numbers with their units in it: what a reader with a pocket calculator does.
 * Knows + − · / ² ^ √ cos sin tan arcsin arctan log10 π, round and square brackets, angles in degrees. Units are taken off: they must already agree.
 */
export function workOut(formula: string, decimalMark: '.' | ',' = '.'): number {
  const tokens = tokensOf(formula, decimalMark);
  let at = 0;
  const next = () => tokens[at];
  const take = (wanted?: string): string => {
    const token = tokens[at++];
    if (token === undefined || (wanted !== undefined && token !== wanted))
      throw new Error(`"${formula}": ${wanted ?? 'more'} expected at ${token ?? 'the end'}`);
    return token;
  };
  const sum = (): number => {
    let value = product();
    while (next() === '+' || next() === '−') value += take() === '+' ? product() : -product();
    return value;
  };
  const product = (): number => {
    let value = power();
    while (next() === '·' || next() === '/') value = take() === '·' ? value * power() : value / power();
    return value;
  };
  const power = (): number => {
    let value = single();
    while (next() === '²' || next() === '^') value **= take() === '²' ? 2 : single();
    return value;
  };
  const single = (): number => {
    const token = take();
    if (token === '-') return -single();
    if (token === '(' || token === '[') {
      const value = sum();
      take(token === '(' ? ')' : ']');
      return value;
    }
    if (token === '√') return Math.sqrt(single());
    if (token === 'cos') return Math.cos((single() * Math.PI) / 180);
    if (token === 'sin') return Math.sin((single() * Math.PI) / 180);
    if (token === 'tan') return Math.tan((single() * Math.PI) / 180);
    if (token === 'arcsin') return (Math.asin(single()) * 180) / Math.PI;
    if (token === 'arctan') return (Math.atan(single()) * 180) / Math.PI;
    if (token === 'π') return Math.PI;
    if (token === 'log10') return Math.log10(single());
    const value = Number(token);
    if (!Number.isFinite(value)) throw new Error(`"${formula}": "${token}" is no number`);
    return value;
  };
  const value = sum();
  if (at < tokens.length) throw new Error(`"${formula}": "${tokens[at]}" is left over`);
  return value;
}

/** The longest first, so that mm/µs is not taken for mm. */
const units = [
  'mm dB',
  'in dB',
  'dB/mm',
  'dB/in',
  'mm µs',
  'in µs',
  'µs²/mm',
  'µs²/in',
  'mm²',
  'in²',
  'mm/µs',
  'in/µs',
  'm/s',
  'mm',
  'in',
  'µs',
  '%',
  'dB',
  '°',
];

function tokensOf(formula: string, decimalMark: string): string[] {
  const tokens: string[] = [];
  let rest = formula.trim();
  while (rest !== '') {
    const number = (decimalMark === '.' ? /^\d+(?:\.\d+)?/ : /^\d+(?:,\d+)?/).exec(rest)?.[0];
    const word = number ?? /^(?:log10|arcsin|arctan|cos|sin|tan|.)/u.exec(rest)![0];
    tokens.push(number === undefined ? word : number.replace(',', '.'));
    rest = rest.slice(word.length);
    if (number !== undefined) {
      const unit = units.find((candidate) => rest.trimStart().startsWith(candidate));
      if (unit !== undefined) rest = rest.trimStart().slice(unit.length);
    }
    rest = rest.trimStart();
  }
  return tokens;
}
