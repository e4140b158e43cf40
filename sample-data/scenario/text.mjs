// Numbers and lines as the files have them.

export const twoDigits = (n) => String(n).padStart(2, '0');

/** `steps · size` written out with all its digits, by whole-number arithmetic: `decimal(-7, 5, 2)` is `-0.35`. */
export function decimal(steps, unitsPerStep, digits) {
  const units = Math.abs(steps * unitsPerStep);
  const scale = 10 ** digits;
  const whole = Math.floor(units / scale);
  const fraction = digits === 0 ? '' : `.${String(units % scale).padStart(digits, '0')}`;
  return `${steps < 0 ? '-' : ''}${whole}${fraction}`;
}

export const lines = (list, end = '\n') => list.map((line) => line + end).join('');
export const preamble = (entries, form) => Object.entries(entries).map(([key, value]) => form(key, value));
export const numberSign = (key, value) => `# ${key}: ${value}`;
export const equalsSign = (key, value) => `${key}=${value}`;
