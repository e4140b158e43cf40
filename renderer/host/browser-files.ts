import type { HostFile } from './host.ts';

/** Files in a folder that may be captures, manifests or reviews; what a person names one by one is taken whatever it is called. */
const readable = /\.(csv|txt|tsv|dat|asc|json)$/i;

export function mayBeRead(name: string): boolean {
  return readable.test(name) && !name.split('/').some((part) => part.startsWith('.'));
}

/** The size is looked up when it is asked for: a browser goes to the disk for it, which takes a quarter of a second for a thousand files. */
export function hostFileOf(file: File, name = file.name): HostFile {
  return {
    name,
    get bytes() {
      return file.size;
    },
    read: () => Promise.resolve(file),
  };
}

/** Asks for files by the browser's own dialog; empty where it was closed. */
export async function pickFiles(accept: string, several: boolean): Promise<readonly HostFile[]> {
  return (await picked((input) => Object.assign(input, { accept, multiple: several }))).map((file) => hostFileOf(file));
}

/** Asks for a folder; names begin below it. */
export async function pickFolder(): Promise<readonly HostFile[]> {
  const files = await picked((input) => {
    input.webkitdirectory = true;
  });
  return inOrder(files.map((file) => hostFileOf(file, belowFolder(file))).filter(({ name }) => mayBeRead(name)));
}

function belowFolder(file: File): string {
  const path = file.webkitRelativePath || file.name;
  return path.slice(path.indexOf('/') + 1);
}

function picked(ask: (input: HTMLInputElement) => void): Promise<readonly File[]> {
  const input = document.createElement('input');
  input.type = 'file';
  input.hidden = true;
  ask(input);
  // In the page, so that a browser does not let go of it while its dialog is open.
  document.body.append(input);
  return new Promise((resolve) => {
    const end = (files: readonly File[]) => {
      input.remove();
      resolve(files);
    };
    input.addEventListener('change', () => end([...(input.files ?? [])]), { once: true });
    input.addEventListener('cancel', () => end([]), { once: true });
    input.click();
  });
}

/**
 * What was dropped: files under their own names, folders with all below them. A single folder is entered: names begin below it, as they do where it is opened.
 * The entries are taken at once: after the event they are gone.
 */
export async function droppedFiles(data: DataTransfer): Promise<readonly HostFile[]> {
  const entries = Array.from(data.items)
    .filter((item) => item.kind === 'file')
    .map((item) => item.webkitGetAsEntry() ?? item.getAsFile())
    .filter((entry) => entry !== null);
  const found: HostFile[] = [];
  for (const entry of entries) {
    if (entry instanceof File) found.push(hostFileOf(entry));
    else if (entry.isFile) found.push(await fileOfEntry(entry as FileSystemFileEntry, entry.name));
    else {
      const start = entries.length === 1 ? '' : `${entry.name}/`;
      found.push(...(await filesBelow(entry as FileSystemDirectoryEntry, start)));
    }
  }
  return found;
}

async function filesBelow(folder: FileSystemDirectoryEntry, start: string): Promise<HostFile[]> {
  const reader = folder.createReader();
  const found: HostFile[] = [];
  for (;;) {
    // A reader gives a hundred entries at a time, and none when there are no more.
    const entries = await new Promise<FileSystemEntry[]>((resolve, reject) => reader.readEntries(resolve, reject));
    if (entries.length === 0) return inOrder(found);
    for (const entry of entries) {
      const name = start + entry.name;
      if (entry.isDirectory) found.push(...(await filesBelow(entry as FileSystemDirectoryEntry, `${name}/`)));
      else if (mayBeRead(name)) found.push(await fileOfEntry(entry as FileSystemFileEntry, name));
    }
  }
}

async function fileOfEntry(entry: FileSystemFileEntry, name: string): Promise<HostFile> {
  return hostFileOf(await new Promise<File>((resolve, reject) => entry.file(resolve, reject)), name);
}

/** 2 before 10, the same on every machine. */
function inOrder(files: readonly HostFile[]): HostFile[] {
  const named = files.map((file) => ({ file, parts: file.name.match(/\d+|\D+/g) ?? [] }));
  return named.sort((a, b) => byParts(a.parts, b.parts)).map(({ file }) => file);
}

function byParts(left: readonly string[], right: readonly string[]): number {
  for (let i = 0; i < Math.min(left.length, right.length); i++) {
    const difference = Number(left[i]) - Number(right[i]);
    if (Number.isFinite(difference) && difference !== 0) return difference;
    if (left[i] !== right[i]) return (left[i] as string) < (right[i] as string) ? -1 : 1;
  }
  return left.length - right.length;
}

/** Gives a file to the person as a download. */
export function download(name: string, content: Blob): void {
  const address = URL.createObjectURL(content);
  const link = Object.assign(document.createElement('a'), { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  letGoLater(address);
}

/** The browser has begun to read it by the next minute. */
function letGoLater(address: string): void {
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** Shows a page in a tab of its own and asks to print it there. It inherits this page's content policy, which knows the report's style by its hash. */
export function openToPrint(page: string): void {
  const address = URL.createObjectURL(new Blob([page], { type: 'text/html' }));
  const shown = window.open(address);
  if (shown === null) {
    URL.revokeObjectURL(address);
    throw new Error(
      'The browser did not open a page for the report: allow it to open pages for this address, and try again.',
    );
  }
  // Not only when it is there: a person may close it before.
  letGoLater(address);
  shown.addEventListener('load', () => {
    URL.revokeObjectURL(address);
    shown.print();
  });
}
