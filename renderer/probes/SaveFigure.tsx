import { useState } from 'react';
import type { NumberStyle } from '../../core/units/format-quantity.ts';
import type { Host } from '../host/host.ts';
import { Button } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { figurePng } from './figure-png.ts';
import { figureSvg } from './figure-svg.ts';
import styles from './Pictures.module.css';
import { paperSize } from './paper-size.ts';
import type { PlotFigure } from './plot-figure.ts';

/** Widths of one and two columns of a page (common practice), and of a slide. */
const widths = [
  { id: '85', label: '85 mm', description: 'One column of a page' },
  { id: '175', label: '175 mm', description: 'The whole width of a page' },
  { id: '250', label: '250 mm', description: 'A slide' },
] as const;
type Width = (typeof widths)[number]['id'];

/** Saves a figure as it would be printed. */
export function SaveFigure({
  figure,
  name,
  host,
  style,
}: {
  readonly figure: PlotFigure;
  /** Of the file, without its ending. */
  readonly name: string;
  readonly host: Host;
  readonly style: NumberStyle;
}) {
  const [width, setWidth] = useState<Width>('85');
  const size = paperSize(figure, Number(width));
  return (
    <div className={styles.save}>
      <Choice label="Width on paper" hideLabel options={widths} chosen={width} onChoose={setWidth} />
      <Button
        small
        aria-label="Save the picture as SVG"
        onPress={() => void host.saveText(`${name}.svg`, 'image/svg+xml', figureSvg(figure, size, style))}
      >
        SVG
      </Button>
      <Button
        small
        aria-label="Save the picture as PNG"
        onPress={() => void host.saveBytes(`${name}.png`, figurePng(figure, size, style))}
      >
        PNG
      </Button>
    </div>
  );
}
