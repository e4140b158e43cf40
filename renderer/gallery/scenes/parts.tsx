import { problem } from '../../../core/outcome.ts';
import { Button, IconButton } from '../../parts/Button.tsx';
import { Choice, Toggle } from '../../parts/Choice.tsx';
import { EmptyState } from '../../parts/EmptyState.tsx';
import { Field } from '../../parts/Field.tsx';
import { Figure } from '../../parts/Figure.tsx';
import { ProblemList } from '../../parts/ProblemList.tsx';
import { Progress } from '../../parts/Progress.tsx';
import type { Scene, Section } from '../scene.ts';

const nothing = () => {};
const materials = [
  { id: 'steel', label: 'Steel', description: '5920 m/s, longitudinal' },
  { id: 'aluminium', label: 'Aluminium', description: null },
  {
    id: 'long',
    label: 'A casting alloy whose name was written out by somebody with a great deal of time',
    description: null,
  },
] as const;
const units = [
  { id: 'mm', label: 'mm' },
  { id: 'in', label: 'in' },
] as const;

/** The pieces that the other components are made of. */
export const parts: Section = {
  id: 'parts',
  title: 'Parts',
  scenes: (): readonly Scene[] => [
    {
      id: 'buttons',
      title: 'Buttons',
      frame: 'part',
      content: (
        <>
          <div>
            <Button kind="main">Accept the calibration</Button> <Button>Cancel</Button>{' '}
            <Button kind="quiet">Quiet</Button>
          </div>
          <div>
            <Button small>Small</Button> <Button isDisabled>Cannot be pressed</Button>{' '}
            <IconButton icon="undo" label="Undo: move gate ‘root’" keyShown="Ctrl+Z" />{' '}
            <IconButton icon="redo" label="Redo" isDisabled />
          </div>
          <div>
            <Button>Use for the 1000 files of this shape</Button>
          </div>
        </>
      ),
    },
    {
      id: 'fields',
      title: 'Fields: empty, filled, described, wrong',
      frame: 'part',
      content: (
        <>
          <Field label="Name" placeholder="By its purpose" value="" onChange={nothing} />
          <Field
            label="Thickness (mm)"
            value="16"
            description="Of the plate, where the beam runs."
            onChange={nothing}
          />
          <Field
            label="Threshold (% FSH)"
            value="two hundred"
            error="“two hundred” is no number: write digits, such as 20."
            onChange={nothing}
          />
          <Field
            label="A label that somebody translated into far more words than stood there"
            value="And a value that goes on for longer than the field that it stands in, so that its end is out of sight"
            onChange={nothing}
          />
          <Field label="Cannot be changed" value="Given by the file" isDisabled onChange={nothing} />
        </>
      ),
    },
    {
      id: 'choices',
      title: 'Choices: nothing chosen, chosen, long, disabled',
      frame: 'part',
      content: (
        <>
          <Choice label="Material" options={materials} chosen={null} onChoose={nothing} />
          <Choice label="Material" options={materials} chosen="steel" onChoose={nothing} />
          <Choice label="Material" options={materials} chosen="long" onChoose={nothing} />
          <Choice label="Material" options={materials} chosen="aluminium" onChoose={nothing} isDisabled />
          <Toggle label="Lengths" options={units} chosen={null} onChoose={nothing} />
          <Toggle label="Lengths" options={units} chosen="mm" onChoose={nothing} />
          <Toggle label="Lengths" options={units} chosen="in" onChoose={nothing} isDisabled />
        </>
      ),
    },
    {
      id: 'progress',
      title: 'Progress: begun, half-way, unknown, without a way to stop, long',
      frame: 'part',
      content: (
        <>
          <Progress label="Reading files: 0 of 1000" share={0} onCancel={nothing} />
          <Progress label="Reading files: 512 of 1000" share={0.512} onCancel={nothing} />
          <Progress label="Looking for the review’s files" share={null} onCancel={nothing} />
          <Progress label="Evaluating" share={0.9} />
          <Progress
            label="Evaluating what was decided about the captures of the second shift: 4112 of 5000 captures"
            share={0.82}
            onCancel={nothing}
          />
        </>
      ),
    },
    {
      id: 'empty-state',
      title: 'Nothing yet, with and without a way on',
      frame: 'part',
      content: (
        <>
          <EmptyState title="No capture is shown">Choose one from the list of captures, or drop files here.</EmptyState>
          <EmptyState title="No captures yet" actions={<Button>Open captures …</Button>}>
            Open files or drop them anywhere on the window.
          </EmptyState>
        </>
      ),
    },
    {
      id: 'problems',
      title: 'Problems at their places',
      frame: 'part',
      content: (
        <ProblemList
          title="Two files cannot be read"
          problems={[
            problem(
              'field-missing',
              { file: 'plate/scan-04.csv', line: 33, column: 6 },
              'the amplitude is missing; save the file again, or take the line out',
            ),
            problem(
              'not-text',
              {
                file: 'a folder with a long name/and another one below it/20260302_instrument_export_left_side_unsorted_0000000017.csv',
              },
              'this is no text; export the waveform as CSV',
            ),
          ]}
        />
      ),
    },
    {
      id: 'figures',
      title: 'Figures that can be asked: plain, asked, unknown, long',
      frame: 'part',
      content: (
        <>
          {['30.01 ± 0.05 mm', '–', '1.18141732 ± 0.00196850 in'].map((text) => (
            <p key={text}>
              <Figure name="Sound path" text={text} asked={figure} onAsk={nothing} />
            </p>
          ))}
          <p>
            <Figure name="Sound path" text="30.01 ± 0.05 mm" asked={figure} onAsk={nothing} isAsked />
          </p>
        </>
      ),
    },
  ],
};

const figure = { kind: 'calibration', figure: 'velocity' } as const;
