/** What hinders a write, in words: what is the matter, and what to do. */
export interface DiskWords {
  readonly reason: string;
  readonly advice: string;
}

/** What is refused before the system is asked, or has given no answer, by a code of our own. */
export class DiskRefusal extends Error {
  constructor(readonly code: 'TAKEN' | 'READ-ONLY' | 'NO-FILE' | 'LINK-TO-NOTHING' | 'EISDIR' | 'SILENT') {
    super(code);
  }
}

const held: DiskWords = {
  reason: 'it may not be written there, or another program holds it',
  advice: 'close it there, or choose another place',
};
const silent: DiskWords = {
  reason: 'the drive does not answer as it should',
  advice: 'check its connection, or choose another place',
};
const inTheWay: DiskWords = {
  reason: 'a file stands where a folder is named',
  advice: 'choose another folder',
};

const byCode: Readonly<Record<string, DiskWords>> = {
  TAKEN: { reason: 'there is such a file already', advice: 'choose another name' },
  'READ-ONLY': { reason: 'the file there is marked as read-only', advice: 'choose another name' },
  'NO-FILE': { reason: 'what stands there is no file', advice: 'choose another name' },
  'LINK-TO-NOTHING': {
    reason: 'it is a link to a file that is not there',
    advice: 'connect the drive that it leads to, or choose another name',
  },
  SILENT: { reason: 'the drive does not answer', advice: 'check its connection, then try again' },
  ENOSPC: { reason: 'the disk is full', advice: 'make room on it, or choose another place' },
  EDQUOT: { reason: 'your share of the disk is used up', advice: 'make room on it, or choose another place' },
  EFBIG: { reason: 'the disk takes no file of this size', advice: 'choose another place' },
  EROFS: { reason: 'the disk can only be read', advice: 'choose another place' },
  EACCES: held,
  EPERM: held,
  EBUSY: { reason: 'another program holds it', advice: 'close it there, then try again' },
  ETXTBSY: { reason: 'another program runs it', advice: 'end that program, then try again' },
  ENAMETOOLONG: { reason: 'its name or path is too long', advice: 'choose a shorter one' },
  EISDIR: { reason: 'a folder has this name', advice: 'choose another name' },
  ENOTDIR: inTheWay,
  EEXIST: inTheWay,
  ELOOP: { reason: 'its links lead in a circle', advice: 'name the file itself' },
  ENOENT: {
    reason: 'its folder is not there',
    advice: 'connect the drive that it is on, or choose another place',
  },
  EIO: silent,
  ESTALE: silent,
  ETIMEDOUT: silent,
  ENXIO: silent,
  ENODEV: silent,
  EMFILE: { reason: 'too many files are open', advice: 'close other programs, then try again' },
  ENFILE: { reason: 'too many files are open', advice: 'close other programs, then try again' },
};

/** Never the system's own words where the code is known: they name paths, and a page must learn none. */
export function diskWords(error: unknown): DiskWords {
  const code = codeOf(error);
  const known = code === null ? undefined : byCode[code];
  return known ?? { reason: `the system says ${code ?? 'nothing of why'}`, advice: 'choose another place' };
}

export function codeOf(error: unknown): string | null {
  const code = error instanceof Error && 'code' in error ? error.code : null;
  return typeof code === 'string' ? code : null;
}
