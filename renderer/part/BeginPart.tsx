import { useState } from 'react';
import type { PartDecision, Shape } from '../../core/review/part-decision.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Toggle } from '../parts/Choice.tsx';
import { notNegative, positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput } from '../procedures/QuantityInput.tsx';
import steps from '../procedures/Step.module.css';
import { angleInPart } from './bounds.ts';
import { newPart } from './part-decision.ts';

/** What the readings already take for the beam. */
export interface Suggested {
  readonly angleDeg: number | null;
  readonly uAngleDeg: number | null;
  readonly thicknessMm: number | null;
}

const kinds = [
  { id: 'plate', label: 'Plate' },
  { id: 'pipe', label: 'Pipe' },
  { id: 'step-block', label: 'Step block' },
] as const;

/** The first statements about a part. Nothing is filled in but what the readings state already. */
export function BeginPart({
  suggested,
  style,
  onPart,
}: {
  readonly suggested: Suggested;
  readonly style: FigureStyle;
  readonly onPart: (part: PartDecision) => void;
}) {
  const [kind, setKind] = useState<Shape['kind']>('plate');
  const [thicknessMm, setThickness] = useState(suggested.thicknessMm);
  const [uThicknessMm, setUThickness] = useState<number | null>(null);
  const [outsideRadiusMm, setRadius] = useState<number | null>(null);
  const [from, setFrom] = useState<'outside' | 'inside'>('outside');
  const [angleDeg, setAngle] = useState(suggested.angleDeg);
  const shape = shapeOf();

  function shapeOf(): Shape | null {
    if (kind === 'step-block') return { kind, steps: [] };
    if (thicknessMm === null) return null;
    if (kind === 'plate') return { kind, thicknessMm, uThicknessMm: uThicknessMm ?? 0 };
    if (outsideRadiusMm === null) return null;
    return { kind, outsideRadiusMm, thicknessMm, uThicknessMm: uThicknessMm ?? 0, from };
  }

  return (
    <div className={steps.body}>
      <p className={steps.note}>
        With the part’s shape and the probe’s angle a sound path becomes a place: depth, distance along the surface, and
        which leg of the beam met it.
      </p>
      <Toggle label="Shape" options={kinds} chosen={kind} onChoose={setKind} />
      {kind !== 'step-block' && (
        <div className={steps.row}>
          {kind === 'pipe' && (
            <OptionalQuantityInput
              label="Outside radius"
              measure="length"
              bound={positive}
              style={style}
              value={outsideRadiusMm}
              onValue={setRadius}
            />
          )}
          <OptionalQuantityInput
            label={kind === 'pipe' ? 'Wall' : 'Thickness'}
            measure="length"
            bound={positive}
            style={style}
            value={thicknessMm}
            onValue={setThickness}
          />
          <OptionalQuantityInput
            label="Its u"
            measure="length"
            bound={notNegative}
            style={style}
            value={uThicknessMm}
            placeholder="exact"
            onValue={setUThickness}
          />
        </div>
      )}
      {kind === 'pipe' && (
        <Toggle
          label="Scanned round the axis"
          options={[
            { id: 'outside', label: 'From outside' },
            { id: 'inside', label: 'From the bore' },
          ]}
          chosen={from}
          onChoose={setFrom}
        />
      )}
      <OptionalQuantityInput
        label="Beam angle in the part"
        measure="angle"
        bound={angleInPart}
        style={style}
        value={angleDeg}
        description="0° for a straight beam"
        onValue={setAngle}
      />
      <div className={steps.actions}>
        <Button
          kind="main"
          isDisabled={shape === null || angleDeg === null}
          onPress={() => {
            if (shape !== null && angleDeg !== null)
              onPart(newPart(shape, angleDeg, angleDeg === suggested.angleDeg ? suggested.uAngleDeg : null));
          }}
        >
          Describe this part
        </Button>
      </div>
    </div>
  );
}
