const table = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit++) rest = rest & 1 ? (rest >>> 1) ^ 0xedb88320 : rest >>> 1;
  return rest;
});

/** CRC-32 of bytes in parts: `crc` is that of the parts before, 0 for none. Source: ISO 3309, as ZIP uses it (APPNOTE 4.4.7); check value of "123456789" is cbf43926. */
export function crc32(bytes: Uint8Array, crc = 0): number {
  let rest = ~crc;
  for (let i = 0; i < bytes.length; i++) rest = table[(rest ^ bytes[i]) & 0xff] ^ (rest >>> 8);
  return ~rest >>> 0;
}
