import { once } from 'node:events';
import { codeOf, diskWords } from '../disk/disk-words.ts';
import { endProgress } from './progress.ts';

/** What a shell counts a program as that ended because nobody reads on (128 + SIGPIPE): neither done nor refused. */
const readerLeft = 141;

/** What comes of a stream that cannot be written: a reader that has read enough (`| head`) ends the program quietly, anything else with a sentence. */
export function watchOutputs(): void {
  for (const [stream, name] of [
    [process.stdout, 'standard output'],
    [process.stderr, 'standard error'],
  ] as const)
    stream.on('error', (error: unknown) => {
      if (codeOf(error) === 'EPIPE' || codeOf(error) === 'EOF') process.exit(readerLeft);
      const { reason, advice } = diskWords(error);
      if (stream === process.stdout)
        process.stderr.write(`${name}: what was found cannot be written: ${reason}; ${advice}\n`);
      process.exit(2);
    });
}

/** Writes to standard output, and waits while its reader is slow: no more is worked out meanwhile than can be kept. */
export async function put(text: string): Promise<void> {
  if (process.stdout.isTTY) endProgress();
  if (!process.stdout.write(text)) await once(process.stdout, 'drain');
}

/** So many characters go out at once where they come in small pieces. */
const atOnce = 1 << 16;

/** The same for many small pieces. */
export async function putPieces(pieces: Iterable<string>): Promise<void> {
  let text = '';
  for (const piece of pieces) {
    text += piece;
    if (text.length < atOnce) continue;
    await put(text);
    text = '';
  }
  if (text !== '') await put(text);
}
