/** A flat plate and the beam in it: what turns a sound path into depth and surface distance. */
export interface BeamInPlate {
  readonly angleDeg: number;
  /** `null`: no back wall is known, everything is first leg. */
  readonly thicknessMm: number | null;
}
