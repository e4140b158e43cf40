import { blockSteel, type WaveMode } from '../material/velocities.ts';
import {
  type BlockFeature,
  type BlockSeries,
  multipleErrors,
  multiples,
  otherRadius,
  twoRadiusDistances,
  twoRadiusErrors,
} from './reference-block.ts';

const inchMm = 25.4;
/** ± 0.1 mm on metric blocks; ± 0.005 in on inch blocks (AWS D1.1:2006 block notes; the metric figure from memory). */
const metricToleranceMm = 0.1;
const inchToleranceMm = 0.005 * inchMm;
/** As many echoes of a series as a record may show. */
const seriesLength = 6;
const thicknessSeriesLength = 12;

const derived = 'series derived from the geometry of two radii on one centre';
const iso2400 = 'ISO 2400 calibration block No. 1 (dimensions second-hand and from memory)';
const iso7963 = 'ISO 7963 calibration block No. 2 (radii second-hand and from memory)';

interface TwoRadius {
  readonly name: string;
  readonly title: string;
  readonly facingMm: number;
  readonly otherMm: number;
  readonly toleranceMm: number;
  readonly source: string;
}

function twoRadius({ name, title, facingMm, otherMm, toleranceMm, source }: TwoRadius): BlockSeries {
  return {
    name,
    title,
    distancesMm: twoRadiusDistances(facingMm, otherMm, seriesLength),
    toleranceMm: 0,
    shared: twoRadiusErrors(facingMm, otherMm, toleranceMm),
    features: twoRadiusDistances(otherMm, facingMm, seriesLength).map((distanceMm) => ({
      name: otherRadius,
      distanceMm,
    })),
    nominal: blockSteel.transverse,
    source: `${source}; ${derived}`,
  };
}

interface Repeated {
  readonly name: string;
  readonly title: string;
  readonly dimensionMm: number;
  readonly count: number;
  readonly toleranceMm: number;
  readonly mode: WaveMode;
  readonly source: string;
}

function repeated({ name, title, dimensionMm, count, toleranceMm, mode, source }: Repeated): BlockSeries {
  return {
    name,
    title,
    distancesMm: multiples(dimensionMm, count),
    toleranceMm: 0,
    shared: multipleErrors(dimensionMm, toleranceMm),
    features: [],
    nominal: blockSteel[mode],
    source,
  };
}

const backWallOfSteps: readonly BlockFeature[] = [{ name: 'second echo of the 85 mm step', distanceMm: 170 }];

/** The published series, each by a plain name: block, then direction. Distances in mm; 1 in is 25.4 mm exactly. */
export const publishedBlocks: readonly BlockSeries[] = [
  repeated({
    name: 'iso-2400/quadrant-slot',
    title: 'ISO 2400 block No. 1, quadrant of 100 mm with a slot at its centre',
    dimensionMm: 100,
    count: seriesLength,
    toleranceMm: metricToleranceMm,
    mode: 'transverse',
    source: `${iso2400}; the slot returns the beam to the same radius (from memory)`,
  }),
  repeated({
    name: 'iso-2400/quadrant-plain',
    title: 'ISO 2400 block No. 1, quadrant of 100 mm without slot or return radius',
    dimensionMm: 100,
    count: 1,
    toleranceMm: metricToleranceMm,
    mode: 'transverse',
    source: `${iso2400}; one echo only (from memory)`,
  }),
  twoRadius({
    name: 'iso-2400/quadrant-return-25',
    title: 'ISO 2400 type block, quadrant of 100 mm with a return radius of 25 mm',
    facingMm: 100,
    otherMm: 25,
    toleranceMm: metricToleranceMm,
    source: 'metric block No. 1 with return radius (from memory)',
  }),
  repeated({
    name: 'iso-2400/thickness',
    title: 'ISO 2400 block No. 1, through the thickness of 25 mm',
    dimensionMm: 25,
    count: thicknessSeriesLength,
    toleranceMm: metricToleranceMm,
    mode: 'longitudinal',
    source: iso2400,
  }),
  {
    name: 'iso-2400/steps',
    title: 'ISO 2400 block No. 1, the steps of 85, 91 and 100 mm at the slot',
    distancesMm: [85, 91, 100],
    toleranceMm: metricToleranceMm,
    shared: null,
    features: backWallOfSteps,
    nominal: blockSteel.longitudinal,
    source: `${iso2400}; steps from memory`,
  },
  twoRadius({
    name: 'iso-7963/25',
    title: 'ISO 7963 block No. 2, facing the radius of 25 mm',
    facingMm: 25,
    otherMm: 50,
    toleranceMm: metricToleranceMm,
    source: iso7963,
  }),
  twoRadius({
    name: 'iso-7963/50',
    title: 'ISO 7963 block No. 2, facing the radius of 50 mm',
    facingMm: 50,
    otherMm: 25,
    toleranceMm: metricToleranceMm,
    source: iso7963,
  }),
  ...[
    [1, 3],
    [3, 1],
    [1, 2],
    [2, 1],
  ].map(([facing, other]) => {
    const pair = facing < other ? `${facing}in-${other}in` : `${other}in-${facing}in`;
    return twoRadius({
      name: `two-radius-${pair}/${facing}in`,
      title: `block of two radii, ${pair.replace('-', ' and ')}, facing ${facing} in`,
      facingMm: facing * inchMm,
      otherMm: other * inchMm,
      toleranceMm: inchToleranceMm,
      source: 'inch blocks of AWS D1.1 (radii from memory)',
    });
  }),
  twoRadius({
    name: 'inch-quadrant/4in-return-1in',
    title: 'inch block with a quadrant of 4 in and a return radius of 1 in',
    facingMm: 4 * inchMm,
    otherMm: inchMm,
    toleranceMm: inchToleranceMm,
    source: 'inch form of block No. 1 (radii from memory)',
  }),
];
