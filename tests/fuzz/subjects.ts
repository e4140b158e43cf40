import { importer } from './importer/importer.ts';
import { recipe, review, statedProbes } from './json/documents.ts';
import type { Subject } from './subject.ts';

export const subjects: readonly Subject[] = [importer as Subject, review, recipe, statedProbes];
