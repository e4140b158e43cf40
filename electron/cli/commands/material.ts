import { captureLookup } from '../../../core/report/document.ts';
import { attenuationTable, materialDocument } from '../../../core/report/probe-document.ts';
import { csvText } from '../../../core/report/table-text.ts';
import type { MaterialDecision } from '../../../core/review/material-decision.ts';
import { emptyReview } from '../../../core/review/review.ts';
import { concludeMaterial, planForMaterial } from '../../../core/steps/material.ts';
import { type Answer, refuseUnless, warningLines } from '../answer.ts';
import { gather } from '../gather.ts';
import { type CommonOptions, conditioningFrom } from '../options.ts';
import { materialWords } from '../probe-words.ts';
import { refuseArgument } from '../refusal.ts';
import { refuseToOverwrite, writeOutput } from '../write-output.ts';
import { examined } from './sensitivity.ts';

export interface MaterialOptions extends CommonOptions {
  thickness?: number;
  tolerance?: number;
  echo?: MaterialDecision['echoes'];
  spreading?: 'none' | 'far-field' | 'piston';
  element?: number;
  csv?: string;
  replace?: boolean;
}

/** Velocity and attenuation against frequency, from echoes of one back wall. */
export async function material(words: readonly string[], options: MaterialOptions): Promise<Answer> {
  const decision = decisionFrom(options);
  if (options.csv !== undefined) refuseToOverwrite(options.csv, options.replace === true);
  const review = { ...emptyReview, conditioning: conditioningFrom(options) };
  const read = await examined(await gather(words, options), planForMaterial(review, decision), options);
  const result = concludeMaterial(decision, read.examinations);
  const problems = [...read.problems, ...result.problems];
  refuseUnless(result.velocityMPerS !== null, problems);
  if (options.csv !== undefined) {
    const text = csvText(attenuationTable(result.attenuation), '.');
    await writeOutput(options.csv, text, options.replace === true);
  }
  const captures = captureLookup(read.examinations.map(({ capture }) => capture));
  const { warnings } = read;
  return {
    document: {
      ...materialDocument(result, captures),
      settings: { echoes: decision.echoes, spreading: decision.spreading, tolerance_mm: decision.toleranceMm },
      warnings: warningLines(warnings),
    },
    words: () => materialWords(result, captures),
    trusted: true,
    problems,
    warnings,
  };
}

function decisionFrom(options: MaterialOptions): MaterialDecision {
  const { thickness, echo = [], spreading, element } = options;
  if (thickness === undefined || !(thickness > 0))
    return refuseArgument('--thickness', 'give the thickness of the part where the echoes come from, as in 25mm');
  if (echo.length < 2)
    return refuseArgument(
      '--echo',
      'give two echoes of the back wall or more, each with its number and window, as in --echo 1@8us..10us --echo 2@16us..18us',
    );
  const twice = echo.find(({ multiple }, i) => echo.findIndex((other) => other.multiple === multiple) < i);
  if (twice !== undefined) return refuseArgument('--echo', `echo ${twice.multiple} is given twice; give each once`);
  if (spreading === undefined)
    return refuseArgument(
      '--spreading',
      'say what of the fall from echo to echo is the beam’s spreading: none, far-field or piston; the attenuation depends on it',
    );
  if (options.tolerance !== undefined && options.tolerance < 0)
    return refuseArgument('--tolerance', 'must be 0 or more');
  return {
    captures: [],
    thicknessMm: thickness,
    toleranceMm: options.tolerance ?? 0,
    echoes: [...echo],
    spreading: spreading === 'piston' ? { kind: 'piston', elementMm: elementOf(element) } : { kind: spreading },
  };
}

function elementOf(element: number | undefined): number {
  return element !== undefined && element > 0
    ? element
    : refuseArgument('--element', 'the diffraction of a piston needs the element’s diameter, as in 10mm');
}
