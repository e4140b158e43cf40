import { commandLine } from './arguments/arguments.ts';
import { importer } from './importer/importer.ts';
import { recipe, review, statedProbes } from './json/documents.ts';
import { manifest } from './manifest.ts';
import { evidencePackage } from './package/package.ts';
import type { Subject } from './subject.ts';

export const subjects: readonly Subject[] = [
  importer as Subject,
  manifest as Subject,
  review,
  recipe,
  statedProbes,
  evidencePackage as Subject,
  commandLine,
];
