/** A file as the screens get it: its name and its bytes, never a path. */
export interface HostFile {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** What the screens may ask of the outside. They never ask which host they run in. */
export interface Host {
  /** A demonstration capture by its path below their folder; rejects with a sentence where it is not there. */
  openSample(name: string): Promise<HostFile>;
  about(): Promise<{ readonly version: string }>;
}
