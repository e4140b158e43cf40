import * as v from 'valibot';
import { readJson } from '../located-json.ts';
import { failure, mostProblems, type Outcome, type Problem, problem, success } from '../outcome.ts';
import { type ProbeFigure, probeFigureNames, probeFigures } from '../probe/figures.ts';
import { type StatedRule, statedRuleSchema } from '../probe/rule.ts';
import { issueAtPath, schemaProblems, thoroughness } from '../schema-problems.ts';
import { finite, name, positive } from './decision-parts.ts';
import type { OfProbe } from './probes-decision.ts';

const keys = Object.fromEntries(probeFigureNames.map((figure) => [probeFigures[figure].key, figure]));

const statedProbes = v.strictObject({
  probes: v.array(
    v.strictObject({
      name,
      element_mm: v.optional(v.nullable(positive), null),
      gate_us: v.optional(v.nullable(v.strictTuple([finite, finite])), null),
      stated: v.optional(v.record(v.string(), finite), {}),
    }),
  ),
});

/**
 * Reads what is stated of probes: `{"probes": [{"name": "…", "element_mm": 10, "gate_us": [18, 22], "stated": {"centre_frequency_astm_e1065_mhz": 5}}]}`.
 * The keys are those of the figures in the results, so that it is plain whose definition a stated figure follows.
 * Problems: not JSON, `stated-form` at its line and column, `unknown-figure`, `probe-twice`, `gate-backwards`.
 */
export function readStatedProbes(file: string, text: string): Outcome<readonly OfProbe[]> {
  const json = readJson(file, text);
  if (!json.ok) return json;
  const { value, place } = json.value;
  const parsed = v.safeParse(statedProbes, value, thoroughness(json.value));
  if (!parsed.success) return failure(...schemaProblems(parsed.issues, json.value, 'stated-form', issueAtPath));
  const seen = new Set<string>();
  const problems: Problem[] = [];
  for (const [i, probe] of parsed.output.probes.entries()) {
    if (problems.length >= mostProblems) break;
    const at = (path: (string | number)[]) => place(['probes', i, ...path]);
    const found = Object.keys(probe.stated)
      .filter((key) => !Object.hasOwn(keys, key))
      .slice(0, mostProblems)
      .map((key) =>
        problem(
          'unknown-figure',
          at(['stated', key]),
          `"${key}" is no figure of a probe; there are ${Object.keys(keys).join(', ')}`,
        ),
      );
    if (seen.has(probe.name))
      found.push(problem('probe-twice', at(['name']), `the probe "${probe.name}" stands twice; give each once`));
    seen.add(probe.name);
    if (probe.gate_us !== null && !(probe.gate_us[0] < probe.gate_us[1]))
      found.push(
        problem('gate-backwards', at(['gate_us']), 'the gate ends before it begins; give the earlier time first'),
      );
    for (const [key, stated] of Object.entries(probe.stated))
      if (Object.hasOwn(keys, key) && probeFigures[keys[key] as ProbeFigure].unit !== 'dB' && !(stated > 0))
        found.push(problem('stated-not-positive', at(['stated', key]), `"${key}" must be above 0`));
    problems.push(...found);
  }
  if (problems.length > 0) return failure(...problems.slice(0, mostProblems));
  return success(
    parsed.output.probes.map(({ name: probe, element_mm, gate_us, stated }) => ({
      name: probe,
      elementMm: element_mm,
      gate: gate_us === null ? null : { fromUs: gate_us[0], toUs: gate_us[1] },
      stated: Object.entries(stated).map(([key, value]) => ({ figure: keys[key] as ProbeFigure, value })),
    })),
  );
}

/** Reads a rule of one's own for figures against stated ones; the form is that of the published rules. */
export function readStatedRule(file: string, text: string): Outcome<StatedRule> {
  const json = readJson(file, text);
  if (!json.ok) return json;
  const parsed = v.safeParse(statedRuleSchema, json.value.value, thoroughness(json.value));
  if (parsed.success) return success(parsed.output);
  return failure(...schemaProblems(parsed.issues, json.value, 'rule-form', issueAtPath));
}
