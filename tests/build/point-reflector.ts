/** A point in a plate and a probe that is moved over it: what its echo is in each position, by plane geometry alone. */
export interface PointReflector {
  readonly acrossMm: number;
  readonly depthMm: number;
  readonly thicknessMm: number;
  readonly angleDeg: number;
  /** On which leg it is met: the second is seen in the mirror of the far surface. */
  readonly leg: 1 | 2 | 3;
  /** Half-angle at which the echo stands 6 dB below that on the axis (a Gaussian beam). */
  readonly halfAngle6dBDeg: number;
}

/** Where the point lies below the scanned surface, once the plate is unfolded about its surfaces. */
export function unfoldedDepth({ depthMm, thicknessMm, leg }: PointReflector): number {
  return leg === 1 ? depthMm : leg === 2 ? 2 * thicknessMm - depthMm : 2 * thicknessMm + depthMm;
}

/** Path and height (in % of that on the axis) from an index point, the beam leaning to growing places. */
export function echoOfPoint(point: PointReflector, indexAtMm: number): { pathMm: number; percent: number } {
  const down = unfoldedDepth(point);
  const along = point.acrossMm - indexAtMm;
  const offAxisDeg = (Math.atan2(along, down) * 180) / Math.PI - point.angleDeg;
  return {
    pathMm: Math.hypot(along, down),
    percent: 100 * 10 ** ((-6 / 20) * (offAxisDeg / point.halfAngle6dBDeg) ** 2),
  };
}

/** An envelope with one echo in it, a Gaussian in time. */
export function envelopeWith(
  echo: { readonly timeUs: number; readonly percent: number },
  axis: { readonly startUs: number; readonly stepUs: number; readonly samples: number },
  sigmaUs = 0.05,
): Float64Array {
  return Float64Array.from(
    { length: axis.samples },
    (_, i) => echo.percent * Math.exp(-0.5 * ((axis.startUs + i * axis.stepUs - echo.timeUs) / sigmaUs) ** 2),
  );
}
