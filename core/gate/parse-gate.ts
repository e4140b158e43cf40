import { type Parsed, parseNumber, parseQuantity, parseSpan, refused } from '../units/parse-quantity.ts';
import type { Gate } from './gate.ts';

/** Reads `weld=20mm..80mm@30` (sound path) or `near=4us..9.5us@12` (time): name, span, threshold in % FSH. */
export function parseGate(text: string): Parsed<Gate> {
  const match = /^([^=@]+)=([^@]+)@(.+)$/.exec(text);
  if (match === null) {
    return refused(
      `"${text}" is not a gate; write name=from..to@threshold, as in weld=20mm..80mm@30 (threshold in % of full screen height)`,
    );
  }
  const [, name, words, thresholdWords] = match;
  const thresholdPercent = parseNumber(thresholdWords.replace(/%$/, ''));
  if (!thresholdPercent.ok) return refused(`gate "${name}": the threshold ${thresholdPercent.sentence}`);
  const isTime = parseQuantity(words.split('..')[0], 'time').ok;
  const span = parseSpan(words, isTime ? 'time' : 'length');
  if (!span.ok) return refused(`gate "${name}": ${span.sentence}`);
  const { from, to } = span.value;
  return {
    ok: true,
    value: {
      name: name.trim(),
      span: isTime ? { axis: 'time', fromUs: from, toUs: to } : { axis: 'path', fromMm: from, toMm: to },
      thresholdPercent: thresholdPercent.value,
    },
  };
}
