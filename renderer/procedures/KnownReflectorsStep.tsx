import { useState } from 'react';
import { readBlock } from '../../core/block/block-by-name.ts';
import { isOwnBlock } from '../../core/block/own-block.ts';
import { bareFigure, figures } from '../../core/origin/figure.ts';
import { unitSign } from '../../core/units/figure-style.ts';
import { Choice } from '../parts/Choice.tsx';
import { QuantityField, type Read } from '../parts/QuantityField.tsx';
import type { CalibrationStepsProps } from './CalibrationSteps.tsx';
import { blockOf, blockOptions, chosenOption, ownBlock, ownWindows } from './calibration-decision.ts';
import styles from './Step.module.css';
import { Step } from './Step.tsx';
import { WindowTable } from './WindowTable.tsx';

/** Which block and direction, or which distances. */
export function KnownReflectorsStep({ decision, onDecision, style }: CalibrationStepsProps) {
  const { reflectors } = decision;
  const [opened, setOpened] = useState<string | null>(null);
  const option = opened ?? chosenOption(decision);
  const block = blockOf(decision);
  const summary =
    block !== null
      ? block.title
      : reflectors.kind === 'windows' && reflectors.list.length > 0
        ? `${reflectors.list.length} ${reflectors.list.length === 1 ? 'distance with its window' : 'distances with their windows'}`
        : 'Choose the block and the direction the probe faced, or give distances.';
  const enough = block !== null || (reflectors.kind === 'windows' && reflectors.list.length >= 2);
  return (
    <Step title="Known reflectors" state={enough ? 'found' : 'needs'} summary={summary}>
      <Choice
        label="Block and direction"
        options={blockOptions}
        chosen={option}
        placeholder="Choose a block"
        onChoose={(id) => {
          const isOwn = id === ownBlock || id === ownWindows;
          setOpened(isOwn ? id : null);
          if (!isOwn) onDecision({ ...decision, reflectors: { kind: 'block', name: id } });
        }}
      />
      {option === ownBlock && (
        <QuantityField
          label="Block of my own"
          description="steps/10mm,20mm,30mm · plate/25mm/+-0.05mm/aluminium · distances/50mm,125mm/transverse"
          value={reflectors.kind === 'block' && block !== null && isOwnBlock(reflectors.name) ? reflectors.name : ''}
          shown={(name) => name}
          read={readOwnName}
          onCommit={(name) => onDecision({ ...decision, reflectors: { kind: 'block', name } })}
        />
      )}
      {block !== null && (
        <dl className={styles.figures}>
          <dt>Distances</dt>
          <dd>{`${block.distancesMm.map((d) => bareFigure(figures.statedMm(d, style), style)).join(' · ')}\u00a0${unitSign('length', style)}`}</dd>
          <dt>Source</dt>
          <dd className={styles.note}>{block.source}</dd>
        </dl>
      )}
      {option === ownWindows && (
        <WindowTable
          hasTolerance
          list={reflectors.kind === 'windows' ? reflectors.list : []}
          style={style}
          onList={(list) => onDecision({ ...decision, reflectors: { kind: 'windows', list: [...list] } })}
        />
      )}
    </Step>
  );
}

function readOwnName(words: string): Read<string> {
  const name = words.trim();
  if (!isOwnBlock(name))
    return { ok: false, sentence: 'begin with steps/, plate/ or distances/, as in the examples below' };
  const read = readBlock(name);
  return read.ok ? { ok: true, value: name } : { ok: false, sentence: read.problems[0]?.sentence ?? '' };
}
