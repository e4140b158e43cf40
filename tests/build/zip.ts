import { crc32 } from '../../core/evidence/crc32.ts';
import type { ByteSource } from '../../core/evidence/read-zip.ts';

/** A file in memory that is read as one on disk. */
export function sourceOf(bytes: Uint8Array): ByteSource {
  return { size: bytes.length, read: (from, length) => bytes.subarray(from, from + length) };
}

export interface EntryToWrite {
  readonly name: string;
  readonly data: Uint8Array;
  /** 0: as it is; 8: deflated already. */
  readonly method?: number;
  /** What the list says, where it is to lie. */
  readonly bytes?: number;
  readonly crc?: number;
  readonly flags?: number;
  readonly nameInHeader?: string;
  /** Where the list says that it begins, where it is to lie. */
  readonly headerAt?: number;
  /** Length of the extra field before the data that the head states; none of it is written. */
  readonly extraInHeader?: number;
}

/** A ZIP file put together by hand, after PKWARE APPNOTE 4.3, so that every field of it can be made to lie. */
export function zipBytes(
  entries: readonly EntryToWrite[],
  end: { readonly count?: number; readonly comment?: string; readonly before?: Uint8Array } = {},
): Uint8Array {
  const parts: Uint8Array[] = [end.before ?? new Uint8Array(0)];
  const directory: Uint8Array[] = [];
  let at = parts[0].length;
  const text = new TextEncoder();
  for (const {
    name,
    data,
    method = 0,
    bytes = data.length,
    crc = crc32(data),
    flags = 0x800,
    nameInHeader = name,
    headerAt,
    extraInHeader = 0,
  } of entries) {
    const common = [u16(20), u16(flags), u16(method), u32(0x00216000), u32(crc), u32(data.length), u32(bytes)];
    const inHeader = text.encode(nameInHeader);
    const header = joined([u32(0x04034b50), ...common, u16(inHeader.length), u16(extraInHeader), inHeader, data]);
    const inList = text.encode(name);
    directory.push(
      joined([
        u32(0x02014b50),
        u16(20),
        ...common,
        u16(inList.length),
        u16(0),
        u16(0),
        u16(0),
        u16(0),
        u32(0),
        u32(headerAt ?? at),
        inList,
      ]),
    );
    parts.push(header);
    at += header.length;
  }
  const list = joined(directory);
  const count = end.count ?? entries.length;
  const comment = text.encode(end.comment ?? '');
  return joined([
    ...parts,
    list,
    u32(0x06054b50),
    u16(0),
    u16(0),
    u16(count),
    u16(count),
    u32(list.length),
    u32(at),
    u16(comment.length),
    comment,
  ]);
}

const u16 = (value: number) => Uint8Array.of(value & 0xff, (value >>> 8) & 0xff);
const u32 = (value: number) => joined([u16(value & 0xffff), u16(value >>> 16)]);

export function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
