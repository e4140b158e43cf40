import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { Manifest } from '../../core/import/manifest.ts';
import type { Problem } from '../../core/outcome.ts';
import type { Examination, Plan } from '../../core/steps/examine.ts';
import { eachInput, type WorkManner } from './each-input.ts';
import type { Input } from './inputs.ts';

/** Which files are to be examined, and how. */
export interface Work {
  readonly inputs: readonly Input[];
  readonly recipe: ImportRecipe;
  readonly manifests: readonly Manifest[];
  readonly plan: Plan;
}

export interface ExaminedFiles {
  readonly examinations: readonly Examination[];
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
}

/** Examines all captures of some files and keeps what was found, for what can only be concluded from all of them: some kilobytes for each capture, no samples. */
export async function examineFiles(
  { inputs, recipe, manifests, plan }: Work,
  jobs: number | null,
  job: WorkManner['job'] = null,
): Promise<ExaminedFiles> {
  const examinations: Examination[] = [];
  const warnings: Problem[] = [];
  const problems: Problem[] = [];
  const work = { inputs, recipe, manifests, wanted: { kind: 'examinations', plan } } as const;
  for await (const done of eachInput(work, { jobs, job })) {
    for (const examination of done.examinations) examinations.push(examination);
    warnings.push(...done.warnings);
    problems.push(...done.problems);
  }
  return { examinations, warnings, problems };
}
