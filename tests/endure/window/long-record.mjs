import { once } from 'node:events';
import { createWriteStream, existsSync, mkdirSync, renameSync } from 'node:fs';
import { dirname } from 'node:path';

/** Samples in a µs. */
const perUs = 100;
const spikePercent = 90;

/**
 * One record of 100 MHz: grass of ±0.5 %, an echo of 40 % in every 500 µs, and one single sample of 90 %. Made once.
 * Gives the time of that sample.
 */
export async function longRecord(path, samples) {
  const spikeAt = Math.round(samples * 0.618) + 7;
  const spikeUs = spikeAt / perUs;
  if (existsSync(path)) return { spikeUs, spikePercent };
  console.log(`Making a record of ${samples} samples (once) …`);
  mkdirSync(dirname(path), { recursive: true });
  const out = createWriteStream(`${path}.part`);
  out.write('# rectification: rf\ntime_us,amplitude_pct\n');
  const heights = Array.from({ length: 500 * perUs }, (_, i) => heightAt(i / perUs).toFixed(2));
  const hundredths = Array.from({ length: perUs }, (_, i) => `.${String(i).padStart(2, '0')},`);
  for (let us = 0; us * perUs < samples; us += 1000) {
    let text = '';
    for (let i = us * perUs; i < Math.min(samples, (us + 1000) * perUs); i++) {
      const height = i === spikeAt ? spikePercent : heights[i % heights.length];
      text += `${Math.floor(i / perUs)}${hundredths[i % perUs]}${height}\n`;
    }
    if (!out.write(text)) await once(out, 'drain');
  }
  out.end();
  await once(out, 'close');
  renameSync(`${path}.part`, path);
  return { spikeUs, spikePercent };
}

function heightAt(us) {
  const echo = 40 * Math.exp(-(((us - 250) / 0.3) ** 2)) * Math.cos(8 * Math.PI * (us - 250));
  return echo + 0.5 * Math.sin(37 * us ** 2);
}
