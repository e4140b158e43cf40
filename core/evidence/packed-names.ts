/**
 * What the review's files are called inside a package, by what the review calls them. A name stays as it is where every system and the Data Package standard can take it:
 * relative, with forward slashes, within its folder, told from the others without capitals. Any other is made so.
 * Source: Data Package (v1), Data Resource, `path`: "POSIX", no absolute path, no `../`; the published JSON schema also refuses two dots in a row and a leading
 * dot or tilde. Names that Windows refuses: common practice.
 * @param others names in the same folder that are taken already
 */
export function packedNames(files: readonly string[], others: readonly string[] = []): ReadonlyMap<string, string> {
  const names = new Map<string, string>();
  const taken = new Set(others.map(foldedName));
  for (const file of files) {
    if (names.has(file)) continue;
    const wanted =
      file
        .split('/')
        .map(safePart)
        .filter((part) => part !== '')
        .join('/') || 'file';
    let name = wanted;
    for (let copy = 2; taken.has(foldedName(name)); copy++) name = numbered(wanted, copy);
    taken.add(foldedName(name));
    names.set(file, name);
  }
  return names;
}

/** Where capitals and the two ways of writing an accent do not tell files apart, these names are one. */
export function foldedName(name: string): string {
  return name.normalize('NFC').toLowerCase();
}

const reserved = /^(?:con|prn|aux|nul|com\d|lpt\d)(?:\.|$)/i;

/** Folders that lead out (`..`) become named ones: nothing in a package lies outside it. */
function safePart(part: string): string {
  if (part === '.' || part === '') return '';
  if (part === '..') return 'above';
  const plain = part
    .replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}<>:"|?*\\]/gu, '_')
    .replace(/\.{2,}/g, '.')
    .replace(/^[.~]/, '_')
    .replace(/[. ]+$/, '_');
  return reserved.test(plain) ? `_${plain}` : plain;
}

function numbered(name: string, copy: number): string {
  const dot = name.lastIndexOf('.');
  const slash = name.lastIndexOf('/');
  return dot > slash + 1 ? `${name.slice(0, dot)}-${copy}${name.slice(dot)}` : `${name}-${copy}`;
}

/** Why a name cannot stand in a package; `null` where it can. The same for a package of our own and for one from a stranger. */
export function nameFault(name: string): string | null {
  if (name === '') return 'it is empty';
  if (/^[/~]/.test(name) || /^[a-z]:/i.test(name)) return 'it leads to a place of its own, outside the package';
  if (name.includes('\\')) return 'it has a backslash, which some systems take for a folder';
  if (/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/u.test(name)) return 'it has a character that cannot be seen';
  if (name.split('/').some((part) => part === '..')) return 'it leads out of the package';
  if (name.split('/').some((part) => part === '' || part === '.')) return 'it has a part that names nothing';
  return null;
}
