/** A small file that a person gave: its text, and the SHA-256 of its bytes in lower-case hexadecimal. */
export interface SmallFile {
  readonly name: string;
  readonly text: string;
  readonly sha256: string;
}

export async function readSmallFile(file: File): Promise<SmallFile> {
  const bytes = await file.arrayBuffer();
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  const sha256 = Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return { name: file.name, text: new TextDecoder().decode(bytes), sha256 };
}
