// The review of the sound instrument: what an auditor decided about its captures. Decisions only; every figure follows from them.
import { reviewParts, window } from './review-parts.mjs';
import { straightProbe } from './set-up.mjs';

const folder = 'instruments/';

const singleEcho = { fromUs: 10, toUs: 11.5 };
const published = (name) => ({ kind: 'published', name });

const record = {
  procedure: 'Checks of ultrasonic instruments, revision 3',
  standard: 'ISO 22232-1; AWS D1.1; ASME BPVC Section V, Article 4, Appendix I; ISO 17640',
  place: 'Repair yard, test room 2',
  date: '2026-05-12',
  instrument: 'Flaw detector 4',
  'instrument-serial': '4',
  probe: 'Straight probe 5, longitudinal',
  'probe-serial': '5',
  'probe-frequency-size': `${straightProbe.pulse.frequencyMHz} MHz, element ${straightProbe.elementMm} mm`,
  cable: 'Coaxial, 2 m',
  couplant: 'Gel 1',
  block: 'Plate 25 mm; hole blocks 5 and 6; forged block 80 mm',
  'surface-condition': 'Ground',
  'temperature-block': '20 °C',
};

/** `files`: every file of the scenario by its path, with its content. */
export function instrumentReview(files) {
  const under = (path) =>
    Object.keys(files)
      .filter((file) => file.startsWith(`${folder}sound/${path}`))
      .map((file) => file.slice(folder.length));
  const checks = under('checks/');
  const pairs = under('screen-height/two-echo-');
  const holes = under('sensitivity/');
  const part = under('part/');
  const run = 'sound/gain/run-over-60-db.csv';
  const captures = [
    'sound/calibration.csv',
    'sound/time-base.csv',
    ...pairs,
    run,
    ...holes,
    'sound/back-wall.csv',
    ...part,
    ...checks,
  ];
  return {
    format: 'ascan-review',
    version: 2,
    title: 'Flaw detector 4 with straight probe 5, yearly check, 12 May 2026',
    notes: 'Linearity of time base, screen and gain; sensitivity on side-drilled holes; the checks since 7 April.',
    ...reviewParts(files, folder, captures, ['sound/manifest.csv']),
    echoes: null,
    calibration: {
      kind: 'fit',
      captures: ['sound/calibration.csv'],
      reflectors: {
        kind: 'windows',
        list: [window(25, 8, 10), window(50, 16.5, 18.5), window(75, 25, 27), window(100, 33.5, 35.5)],
      },
      timing: 'peak',
      thresholdPercent: 20,
      nominal: { material: 'steel', mode: 'longitudinal' },
    },
    readings: {
      captures: part,
      gates: [{ name: 'shaft', span: { axis: 'path', fromMm: 30, toMm: 80 }, thresholdPercent: 20 }],
      timing: 'peak',
      beam: null,
      uAngleDeg: null,
      series: null,
    },
    drift: {
      captures: checks,
      reflectors: [window(25, 8, 10), window(100, 33.5, 35.5)],
      amplitudePercent: null,
      thresholdPercent: 5,
      rangeMm: 125,
      decision: 'with-uncertainty',
      rule: published('iso-17640'),
    },
    linearity: {
      timeBase: {
        captures: ['sound/time-base.csv'],
        reflectors: { kind: 'equally-spaced', fromUs: 5, toUs: 99, abovePercent: 10, spacingMm: 25 },
        timing: 'peak',
        thresholdPercent: 5,
        range: { axis: 'path', widthMm: 250 },
        line: 'end-points',
        decision: 'with-uncertainty',
        rule: published('iso-22232-1-time-base'),
      },
      screenHeight: {
        form: 'two-echo',
        captures: pairs,
        larger: singleEcho,
        smaller: { fromUs: 12.7, toUs: 14.3 },
        thresholdPercent: 5,
        decision: 'with-uncertainty',
        rule: published('asme-v-appendix-i'),
      },
      gain: {
        captures: [run],
        window: singleEcho,
        steps: null,
        thresholdPercent: 5,
        decision: 'with-uncertainty',
        rule: published('aws-d1.1-gain'),
      },
    },
    sensitivity: {
      curve: {
        captures: holes,
        kind: 'side-drilled-hole',
        reflectors: [window(25, 8, 10), window(50, 16.5, 18.5), window(75, 25, 27), window(100, 33.5, 35.5)],
        thresholdPercent: 20,
        straightIn: 'db',
        referencePercent: 80,
        referenceGainDb: null,
        levels: published('minus-6-minus-14'),
        decision: 'with-uncertainty',
        transferCorrectionDb: 0,
        uTransferCorrectionDb: 0,
      },
      attenuation: {
        captures: ['sound/back-wall.csv'],
        near: window(80, 27, 28.5),
        far: window(160, 54, 55.5),
        thresholdPercent: 5,
      },
      probe: {
        elementMm: straightProbe.elementMm,
        frequencyMHz: straightProbe.pulse.frequencyMHz,
        velocityMPerS: null,
      },
      uCouplingDb: 0.2,
      uGainDb: 0.1,
    },
    part: null,
    scan: null,
    probes: null,
    material: null,
    record: Object.entries(record).map(([field, value]) => ({ field, value })),
  };
}
