import { useMemo, useState } from 'react';
import { Button } from '../parts/Button.tsx';
import { Field } from '../parts/Field.tsx';
import styles from './CapturePicker.module.css';
import { type CaptureChoice, choicesWith, toggled, withAll, withoutAll } from './capture-choices.ts';

/** So many are listed at once; the filter brings the others. */
const mostListed = 200;
/** From so many on a filter is worth its place. */
const filterFrom = 8;

/** Which captures a procedure works on, by file or by capture. */
export function CapturePicker({
  label,
  choices,
  chosen,
  onChosen,
}: {
  readonly label: string;
  readonly choices: readonly CaptureChoice[];
  readonly chosen: readonly string[];
  readonly onChosen: (references: readonly string[]) => void;
}) {
  const [words, setWords] = useState('');
  const [unfolded, setUnfolded] = useState<ReadonlySet<string>>(new Set());
  const fileOf = ({ reference }: CaptureChoice) => reference.split('#')[0] ?? '';
  const isInSight = (choice: CaptureChoice) =>
    !choice.isTrace || words !== '' || unfolded.has(fileOf(choice)) || chosen.includes(choice.reference);
  const worded = useMemo(() => choicesWith(choices, words), [choices, words]);
  const matching = worded.filter(isInSight);
  const all = withAll([], worded);
  const none = withoutAll(chosen, worded);
  const files = new Set(choices.filter(({ isTrace }) => isTrace).map(fileOf));
  const isIn = ({ reference, isTrace }: CaptureChoice) =>
    chosen.includes(reference) || (isTrace && chosen.includes(reference.split('#')[0] ?? ''));
  const unfold = (file: string) =>
    setUnfolded(new Set(unfolded.has(file) ? [...unfolded].filter((f) => f !== file) : [...unfolded, file]));
  if (choices.length === 0) return <p className={styles.rest}>There are no captures yet. Open some first.</p>;
  return (
    <>
      {choices.length > filterFrom && (
        <Field
          label={`Filter: ${label}`}
          hideLabel
          placeholder="Filter by name, block, probe"
          value={words}
          onChange={setWords}
        />
      )}
      {all.length > 1 && (
        <div className={styles.all}>
          <Button small onPress={() => onChosen(withAll(chosen, worded))}>
            Choose {words === '' ? 'all' : 'these'} {all.length}
          </Button>
          <Button small isDisabled={none.length === chosen.length} onPress={() => onChosen(none)}>
            Choose none{words === '' ? '' : ' of these'}
          </Button>
        </div>
      )}
      <ul className={styles.list} aria-label={label}>
        {matching.slice(0, mostListed).map((choice) => (
          <li key={choice.reference}>
            <label className={[styles.choice, choice.isTrace ? styles.trace : ''].join(' ')}>
              <input
                type="checkbox"
                checked={isIn(choice)}
                onChange={(event) => onChosen(toggled(chosen, choice, event.target.checked))}
              />
              <span className={styles.title}>{choice.title}</span>
              {choice.detail !== '' && <span className={styles.detail}>{choice.detail}</span>}
            </label>
            {!choice.isTrace && files.has(choice.reference) && words === '' && (
              <button
                type="button"
                className={styles.fold}
                aria-expanded={unfolded.has(choice.reference)}
                onClick={() => unfold(choice.reference)}
              >
                {unfolded.has(choice.reference) ? 'Fold its captures' : 'Choose among its captures'}
              </button>
            )}
          </li>
        ))}
        {matching.length === 0 && <li className={styles.rest}>Nothing has these words.</li>}
        {matching.length > mostListed && (
          <li className={styles.rest}>{matching.length - mostListed} more: filter to see them.</li>
        )}
      </ul>
    </>
  );
}
