import { crc32, inflateRawSync } from 'node:zlib';

/** A ZIP file read slowly from PKWARE APPNOTE 4.3: the list at its end, then each file by its own head. Node's own inflate expands. */
export interface SlowEntry {
  readonly name: string;
  /** All bytes that belong to it: head, name, extra field and data. */
  readonly from: number;
  readonly to: number;
  /** `null` where it does not expand to the size and CRC-32 that are stated. */
  readonly bytes: Buffer | null;
}

export function slowZip(
  zip: Uint8Array,
): { readonly entries: readonly SlowEntry[]; readonly directoryAt: number } | null {
  const data = Buffer.from(zip);
  for (let end = data.length - 22; end >= 0 && end >= data.length - 22 - 65_535; end--) {
    if (data.readUInt32LE(end) !== 0x06054b50 || end + 22 + data.readUInt16LE(end + 20) !== data.length) continue;
    const directoryAt = data.readUInt32LE(end + 16);
    const entries: SlowEntry[] = [];
    let at = directoryAt;
    for (let i = 0; i < data.readUInt16LE(end + 10); i++) {
      if (at + 46 > data.length || data.readUInt32LE(at) !== 0x02014b50) return null;
      const nameLength = data.readUInt16LE(at + 28);
      entries.push(entryAt(data, at, data.subarray(at + 46, at + 46 + nameLength).toString('utf8')));
      at += 46 + nameLength + data.readUInt16LE(at + 30) + data.readUInt16LE(at + 32);
    }
    return { entries, directoryAt };
  }
  return null;
}

function entryAt(data: Buffer, at: number, name: string): SlowEntry {
  const method = data.readUInt16LE(at + 10);
  const crc = data.readUInt32LE(at + 16);
  const compressed = data.readUInt32LE(at + 20);
  const size = data.readUInt32LE(at + 24);
  const from = data.readUInt32LE(at + 42);
  if (from + 30 > data.length) return { name, from, to: from, bytes: null };
  const dataAt = from + 30 + data.readUInt16LE(from + 26) + data.readUInt16LE(from + 28);
  const packed = data.subarray(dataAt, dataAt + compressed);
  return { name, from, to: dataAt + compressed, bytes: whole(packed, method, size, crc) };
}

function whole(packed: Buffer, method: number, size: number, crc: number): Buffer | null {
  try {
    const bytes = method === 8 ? inflateRawSync(packed, { maxOutputLength: Math.max(1, size) }) : packed;
    return bytes.length === size && crc32(bytes) === crc ? bytes : null;
  } catch {
    return null;
  }
}
