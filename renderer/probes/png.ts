import { zlibSync } from 'fflate';

/** Pixels of red, green, blue, opacity, row after row from the top. */
export interface Pixels {
  readonly data: Uint8ClampedArray;
  readonly width: number;
  readonly height: number;
}

const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

/**
 * Pixels as a PNG file: eight bits for each of red, green, blue and opacity, no filter.
 * @param perMm pixels in a millimetre, told in the file, so that it is placed on paper at its size; `null`: nothing is told
 * Source: ISO/IEC 15948:2004 (PNG), 5.3 and 11.2.
 */
export function pngOf({ data, width, height }: Pixels, perMm: number | null): Uint8Array<ArrayBuffer> {
  const rows = new Uint8Array(height * (1 + 4 * width));
  for (let y = 0; y < height; y++) rows.set(data.subarray(4 * width * y, 4 * width * (y + 1)), y * (1 + 4 * width) + 1);
  const head = new Uint8Array(13);
  const view = new DataView(head.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  head.set([8, 6, 0, 0, 0], 8);
  const parts = [
    Uint8Array.from(signature),
    chunk('IHDR', head),
    ...(perMm === null ? [] : [chunk('pHYs', physicalSize(perMm))]),
    chunk('IDAT', zlibSync(rows)),
    chunk('IEND', new Uint8Array(0)),
  ];
  const file = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    file.set(part, at);
    at += part.length;
  }
  return file;
}

/** Pixels in a metre, both ways. */
function physicalSize(perMm: number): Uint8Array {
  const size = new Uint8Array(9);
  const view = new DataView(size.buffer);
  view.setUint32(0, Math.round(1000 * perMm));
  view.setUint32(4, Math.round(1000 * perMm));
  size[8] = 1;
  return size;
}

function chunk(type: string, content: Uint8Array): Uint8Array {
  const made = new Uint8Array(12 + content.length);
  const view = new DataView(made.buffer);
  view.setUint32(0, content.length);
  for (let i = 0; i < 4; i++) made[4 + i] = type.charCodeAt(i);
  made.set(content, 8);
  view.setUint32(8 + content.length, checkSum(made.subarray(4, 8 + content.length)));
  return made;
}

/** CRC-32, as PNG has it: ISO/IEC 15948:2004, annex D. */
function checkSum(bytes: Uint8Array): number {
  let sum = 0xffffffff;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return (sum ^ 0xffffffff) >>> 0;
}
