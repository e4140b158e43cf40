// npm run endure -- NAME [options]: what takes long. Each NAME is a file beside this one, and says at its head what it holds and which options it knows.
import { readdirSync } from 'node:fs';

const names = readdirSync(new URL('.', import.meta.url))
  .filter((file) => file.endsWith('.mjs') && file !== 'run.mjs')
  .map((file) => file.slice(0, -'.mjs'.length));
const [name] = process.argv.splice(2, 1);
if (names.includes(name)) await import(`./${name}.mjs`);
else {
  console.error(`Give one of ${names.join(', ')}: npm run endure -- ${names[0]}`);
  process.exitCode = 2;
}
