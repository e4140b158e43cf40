import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { reportPage } from '../../../../core/report/page/page.ts';
import type { Review } from '../../../../core/review/review.ts';
import { emptyReview } from '../../../../core/review/review.ts';
import { sampleReport } from '../../../build/sample-report.ts';

const folder = fileURLToPath(new URL('../../../../sample-data/probes', import.meta.url));
const captures = readdirSync(folder)
  .filter((name) => name.endsWith('.csv'))
  .map((name) => `probes/${name}`);

/** Three probes on one plate, and the plate itself by the echoes of the first. */
function probesOnAPlate(sample: Review): Review {
  const { recipe } = sample.sources[0];
  return {
    ...emptyReview,
    sources: captures.map((file) => ({ file, sha256: null, recipe, facts: [] })),
    probes: {
      captures,
      gate: { fromUs: 8, toUs: 10.5 },
      spectrum: { window: { kind: 'hann' }, padding: 4 },
      elementMm: 6,
      velocityMPerS: 5918,
      probes: [
        {
          name: 'straight probe 21',
          gate: null,
          elementMm: null,
          stated: [{ figure: 'centre-frequency-e1065', value: 5 }],
        },
      ],
      reference: 'straight probe 21',
      align: 'cross-correlation',
      normalised: true,
      significance: 0.05,
      decision: 'with-uncertainty',
      rule: { kind: 'published', name: 'iso-22232-2' },
    },
    material: {
      captures: captures.slice(0, 2),
      thicknessMm: 25,
      toleranceMm: 0.01,
      echoes: [
        { multiple: 1, fromUs: 8, toUs: 10.5 },
        { multiple: 2, fromUs: 16.5, toUs: 19 },
      ],
      spreading: { kind: 'far-field' },
    },
  };
}

const input = sampleReport(probesOnAPlate);
const page = reportPage(input);
const part = (id: string) =>
  (new RegExp(`<section id="${id}".*?</section>`, 's').exec(page)?.[0] ?? '')
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ');

describe('probes and material in the report', () => {
  it('every probe with its number of captures, every figure that any of them has', () => {
    for (const { probe } of input.evaluation.probes!.probes) expect(part('probes')).toContain(probe);
    expect(part('probes')).toContain('Captures 6 6 6');
    const { value, standardUncertainty } = input.evaluation.probes!.probes[1].figures['peak-frequency'].quantity!;
    expect(part('probes')).toContain(`${value.toFixed(4)} ± ${standardUncertainty!.toFixed(4)} MHz`);
  });

  it('what is stated with its verdict, and how probes differ', () => {
    expect(part('probes')).toContain('straight probe 21 Centre frequency, ASTM E1065 5.000 MHz');
    expect(part('probes')).toMatch(/straight probe 22 Peak frequency −0\.695\d* ± 0\.\d+ MHz yes: they differ/);
  });

  it('what could not be measured, and why, below the table and not in it', () => {
    expect(page).not.toMatch(/<td class="figure">not measurable:/);
    expect(part('probes')).toMatch(/straight probe 22\s*, not measurable: Pulse duration at −40 dB, ASTM E1065\. /);
  });

  it('the material’s velocity with its uncertainty', () => {
    const { value, standardUncertainty } = input.evaluation.material!.velocityMPerS!;
    expect(part('material')).toContain(`${value.toFixed(1)} ± ${standardUncertainty!.toFixed(1)} m/s from 2 captures`);
    expect(part('material')).toContain('Apparent attenuation per mm of travel');
  });

  it('has neither where neither was asked for', () => {
    const without = reportPage(sampleReport((review) => ({ ...probesOnAPlate(review), probes: null, material: null })));
    expect(without).not.toMatch(/id="(probes|material)"/);
  });
});
