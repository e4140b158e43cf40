import type { Chance } from '../chance.ts';
import { changed, spliced } from '../change.ts';
import { edgeNumbers, edgeWords } from '../edges.ts';
import type { Subject } from '../subject.ts';
import { judgeImport, type WrittenFile } from './judge.ts';
import { madeFile } from './made-file.ts';

/** Waveform files, from bytes to captures. */
export const importer: Subject<WrittenFile> = {
  name: 'importer',
  ending: 'csv',
  make: madeFile,
  change: (bytes, other, chance) => changed(bytes, other, chance, [onLines, onCells, onEncoding]),
  judge: ({ bytes, truth }) => judgeImport(bytes, truth),
};

/** Lines put elsewhere, left out, doubled or ended otherwise. */
function onLines(bytes: Uint8Array, other: Uint8Array, chance: Chance): Uint8Array {
  const lines = Buffer.from(bytes).toString('latin1').split('\n');
  const at = chance.below(lines.length);
  const end = Math.min(lines.length, at + 1 + chance.small(20));
  const act = chance.below(6);
  if (act === 0) lines.splice(at, end - at);
  else if (act === 1) lines.splice(at, 0, ...lines.slice(at, end));
  else if (act === 2) lines.splice(at, 0, '');
  else if (act === 3) lines.splice(at, end - at, ...lines.slice(at, end).reverse());
  else if (act === 4)
    lines.splice(
      at,
      0,
      ...Buffer.from(other)
        .toString('latin1')
        .split('\n')
        .slice(0, 1 + chance.small(20)),
    );
  const mark = act === 5 ? chance.pick(['\r', '\r\n', '\n\n', '\r\r\n', '\n\r']) : '\n';
  return new Uint8Array(Buffer.from(lines.join(mark), 'latin1'));
}

/** A cell that becomes something else. */
function onCells(bytes: Uint8Array, _other: Uint8Array, chance: Chance): Uint8Array {
  const isMark = (byte: number) => byte === 0x2c || byte === 0x3b || byte === 0x09 || byte === 0x0a;
  let from = chance.below(bytes.length + 1);
  while (from > 0 && !isMark(bytes[from - 1])) from--;
  let to = from;
  while (to < bytes.length && !isMark(bytes[to])) to++;
  return spliced(bytes, from, to, new TextEncoder().encode(chance.pick(chance.oneIn(4) ? edgeWords : edgeNumbers)));
}

/** The same text in another encoding, or a mark of one that it is not in. */
function onEncoding(bytes: Uint8Array, _other: Uint8Array, chance: Chance): Uint8Array {
  const text = new TextDecoder('utf-8').decode(bytes);
  const wide = Buffer.from(chance.oneIn(2) ? `\ufeff${text}` : text, 'utf16le');
  const act = chance.below(4);
  if (act === 0) return new Uint8Array(wide);
  if (act === 1) return new Uint8Array(wide.swap16());
  if (act === 2) return new Uint8Array(Buffer.from(text, 'latin1'));
  return spliced(
    bytes,
    0,
    0,
    chance.pick(
      [
        [0xef, 0xbb, 0xbf],
        [0xff, 0xfe],
        [0xfe, 0xff],
      ].map((mark) => Uint8Array.from(mark)),
    ),
  );
}
