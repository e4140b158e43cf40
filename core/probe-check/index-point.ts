import type { Quantity } from '../units/quantity.ts';

/**
 * How far the index point lies behind the front of the wedge, from a block with a cylindrical surface.
 *
 *              front        end of the block
 *     x----------|--------------|      the echo of the radius is at its highest where the index point x
 *     |<-- index->|<-- reading ->|      stands over the centre: index to front = radius − reading
 *     |<-------- radius -------->|
 *
 * Source: index point on block No. 1 of ISO 2400 (read second-hand: a reading of 84 mm on the radius of 100 mm puts it 16 mm behind the front).
 * @param frontToEndMm from the front of the wedge to the end of the block where the radius ends
 */
export function indexPoint(radiusMm: number, frontToEndMm: Quantity): Quantity {
  return { value: radiusMm - frontToEndMm.value, standardUncertainty: frontToEndMm.standardUncertainty };
}
