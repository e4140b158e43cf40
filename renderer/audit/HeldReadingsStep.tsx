import { flagTexts } from '../../core/flag.ts';
import { figures, figureWithUncertainty } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { levelsInDb } from '../../core/sensitivity/evaluation-levels.ts';
import type { HeldLevel, HeldReading, LevelOutcome } from '../../core/sensitivity/hold-against-curve.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { Icon, type IconName } from '../parts/Icon.tsx';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import { FileButton } from '../procedures/FileButton.tsx';
import { anything, notNegative } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { isSame } from './asked.ts';
import own from './Check.module.css';
import { inWords } from './figure-words.ts';
import type { OfCurve } from './SensitivitySteps.tsx';
import { chosenLevels, levelOptions, levelsOf, noLevels } from './sensitivity-decision.ts';

const decisions = [
  { id: 'with-uncertainty', label: 'Level guarded by 2 u' },
  { id: 'simple-acceptance', label: 'Value alone' },
] as const;

/** Levels, transfer correction, and every reading of the review against the curve. */
export function HeldReadingsStep(props: OfCurve) {
  const { result, curve, changeCurve, levelProblems, onLevelsFile, style } = props;
  const readings = result?.curve?.readings ?? [];
  const levels = levelsOf(curve.levels);
  const flagged = readings.filter(({ flags, atLeast }) => flags.length > 0 || atLeast).length;
  return (
    <Step
      title="Readings against the curve"
      state={readings.length === 0 ? 'needs' : flagged > 0 ? 'doubt' : 'found'}
      word={flagged > 0 ? `${flagged} with a doubt` : null}
      summary={
        readings.length === 0
          ? 'Needs the curve, and readings in Distance, Readings.'
          : `${readings.length} ${readings.length === 1 ? 'reading' : 'readings'}${levels === null ? '; no levels were chosen.' : ` at the levels of ${levels.title}.`}`
      }
    >
      <Choice
        label="Levels"
        options={levelOptions(curve.levels)}
        chosen={chosenLevels(curve.levels)}
        onChoose={(id) => {
          if (id === noLevels) changeCurve({ levels: null });
          else if (!id.startsWith('own ')) changeCurve({ levels: { kind: 'published', name: id } });
        }}
      />
      {levels !== null && (
        <p className={styles.note}>
          {levelsInDb(levels)
            .map(({ name, db }) => `${name}: ${inWords(`${formatNumber(db, 1, style)} dB`)}`)
            .join('; ')}
          . Edition: {levels.edition}. {levels.source}
        </p>
      )}
      <DoubtNotes
        label="What is wrong with the file of levels"
        doubts={levelProblems.map(({ place, sentence }) => ({
          sentence: `${sentence} (${[place.file, place.line, place.column].filter((part) => part !== null).join(':')})`,
          advice: null,
        }))}
      />
      {levels !== null && (
        <Toggle
          label="What decides"
          options={decisions}
          chosen={curve.decision}
          onChoose={(decision) => changeCurve({ decision })}
        />
      )}
      <div className={styles.actions}>
        <FileButton label="Levels of my own …" accept={['.json', 'application/json']} onFile={onLevelsFile} />
      </div>
      <div className={styles.row}>
        <QuantityInput
          label="Transfer correction"
          measure="level"
          bound={anything}
          style={style}
          value={curve.transferCorrectionDb}
          description="Loss from block to part"
          onValue={(transferCorrectionDb) => changeCurve({ transferCorrectionDb })}
        />
        <QuantityInput
          label="Its u"
          measure="level"
          bound={notNegative}
          style={style}
          value={curve.uTransferCorrectionDb}
          description="Standard uncertainty"
          onValue={(uTransferCorrectionDb) => changeCurve({ uTransferCorrectionDb })}
        />
      </div>
      <Readings {...props} readings={readings} />
    </Step>
  );
}

/** So many are listed at once; the rest stands in the report and on the command line. */
const mostListed = 200;

function Readings({
  readings,
  onAsk,
  asked,
  onSelect,
  style,
}: OfCurve & { readonly readings: readonly HeldReading[] }) {
  if (readings.length === 0) return null;
  return (
    <>
      <ol className={own.results} aria-label="Readings against the curve">
        {readings.slice(0, mostListed).map((reading) => {
          const { captureId, gate, toCurveDb, percentOfCurve, atLeast, levels, flags, remarks } = reading;
          const file = captureId.replace(/#[^#]*$/, '');
          const ask = (figure: 'to-curve' | 'percent-of-curve', name: string, text: string) => {
            const figureAsked: FigureAsked = { kind: 'sensitivity', figure, captureId, gate };
            return (
              <Figure
                name={`${name}, ${gate} of ${file}`}
                text={inWords(`${atLeast ? '≥ ' : ''}${text}`)}
                asked={figureAsked}
                onAsk={onAsk}
                isAsked={isSame(asked, figureAsked)}
              />
            );
          };
          return (
            <li key={`${captureId} ${gate}`} className={own.result}>
              <div className={own.line}>
                <span className={own.name}>{gate}</span>
                {toCurveDb === null ? (
                  <span className={own.soft}>no figure</span>
                ) : (
                  ask('to-curve', 'To the curve', figureWithUncertainty(figures.levelDb(toCurveDb, style), style))
                )}
                <span>
                  {percentOfCurve !== null &&
                    ask(
                      'percent-of-curve',
                      'Of the curve',
                      figureWithUncertainty(figures.amplitudePercent(percentOfCurve, style), style),
                    )}
                </span>
              </div>
              <p className={own.soft}>
                <button type="button" className={own.link} onClick={() => onSelect(captureId)}>
                  {file}
                </button>
              </p>
              {levels.map((level) => (
                <AtLevel key={level.name} level={level} style={style} />
              ))}
              {remarks.map((sentence) => (
                <p key={sentence} className={own.soft}>
                  {sentence}
                </p>
              ))}
              {flags.map((flag) => (
                <p key={flag} className={own.remark}>
                  {flagTexts[flag].sentence}
                </p>
              ))}
            </li>
          );
        })}
      </ol>
      {readings.length > mostListed && (
        <p className={styles.note}>
          {readings.length - mostListed} more stand in the report and in the table of results of a package.
        </p>
      )}
    </>
  );
}

const levelSigns: Readonly<Record<LevelOutcome, { readonly icon: IconName; readonly words: string }>> = {
  above: { icon: 'above', words: 'above' },
  below: { icon: 'below', words: 'below' },
  inconclusive: { icon: 'doubt', words: 'cannot be told at' },
  'not-assessed': { icon: 'ring', words: 'not assessed at' },
};

/** A level asks for an evaluation and judges nothing: neither good nor bad is told by colour. */
function AtLevel({ level, style }: { readonly level: HeldLevel; readonly style: FigureStyle }) {
  const { icon, words } = levelSigns[level.outcome];
  return (
    <p className={own.level}>
      <Icon name={icon} />
      {words} {level.name} ({inWords(`${formatNumber(level.db, 1, style)} dB`)})
    </p>
  );
}
