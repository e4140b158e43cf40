import { useMemo, useState } from 'react';
import {
  type JudgedPart,
  judgedParts,
  outcomesInOrder,
  type SummarisedVerdict,
  type VerdictSummary,
} from '../../core/check/verdict-summary.ts';
import { flagTexts } from '../../core/flag.ts';
import { limitsShown, verdictFigure } from '../../core/origin/decision-in-numbers.ts';
import { figureWithUncertainty } from '../../core/origin/figure.ts';
import { verdictWords } from '../../core/origin/verdict-words.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { CopyButton } from '../parts/CopyButton.tsx';
import { EmptyState } from '../parts/EmptyState.tsx';
import { Field } from '../parts/Field.tsx';
import { Figure } from '../parts/Figure.tsx';
import { Icon } from '../parts/Icon.tsx';
import { isSame } from './asked.ts';
import { inWords } from './figure-words.ts';
import { VerdictSign, verdictIcons } from './VerdictSign.tsx';
import styles from './Verdicts.module.css';
import { allVerdicts, filteredVerdicts, type VerdictFilter } from './verdict-filter.ts';
import { groupsOf, type VerdictGroup } from './verdict-groups.ts';

export interface VerdictsViewProps {
  /** `null` as long as nothing was evaluated. */
  readonly summary: VerdictSummary | null;
  readonly isEvaluating: boolean;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly onCopy: (verdicts: readonly SummarisedVerdict[]) => Promise<boolean>;
  readonly onSave: (verdicts: readonly SummarisedVerdict[]) => void;
  readonly style: FigureStyle;
  readonly filter?: VerdictFilter;
}

/** So many are listed at once. */
const listedAtOnce = 100;

/** Every verdict of the review in one list: what fails first. */
export function VerdictsView(props: VerdictsViewProps) {
  const { summary, isEvaluating } = props;
  const [filter, setFilter] = useState(props.filter ?? allVerdicts);
  const [most, setMost] = useState(listedAtOnce);
  const shown = useMemo(() => filteredVerdicts(summary?.verdicts ?? [], filter), [summary, filter]);
  const change = (next: Partial<VerdictFilter>) => {
    setFilter({ ...filter, ...next });
    setMost(listedAtOnce);
  };
  if (summary === null || summary.verdicts.length === 0)
    return (
      <EmptyState title={summary === null && isEvaluating ? 'Being evaluated …' : 'There is no verdict yet'}>
        A verdict needs a rule, and a rule is never chosen in silence: choose one in Drift, Time base, Screen height or
        Gain.
      </EmptyState>
    );
  return (
    <section className={styles.verdicts} aria-label="All verdicts">
      <div className={styles.tools}>
        <Outcomes summary={summary} filter={filter} onChange={change} />
        <div className={styles.row}>
          <PartChoice summary={summary} filter={filter} onChange={change} />
          <Field
            label="Filter verdicts"
            hideLabel
            placeholder="Filter"
            value={filter.words}
            onChange={(words) => change({ words })}
          />
        </div>
        <CopyAndSave {...props} shown={shown} />
      </div>
      <p className={styles.count} aria-live="polite">
        {shown.length === summary.verdicts.length
          ? `${shown.length} verdicts, what fails first`
          : `${shown.length} of ${summary.verdicts.length} verdicts`}
        {isEvaluating ? '; being evaluated anew …' : ''}
      </p>
      {shown.length === 0 ? (
        <p className={styles.none}>
          No verdict is like this.{' '}
          <Button small onPress={() => change(allVerdicts)}>
            Show all
          </Button>
        </p>
      ) : (
        groupsOf(shown.slice(0, most)).map((group) => <Group key={group.key} {...props} group={group} />)
      )}
      {shown.length > most && (
        <div className={styles.more}>
          <Button onPress={() => setMost(most + listedAtOnce)}>
            Show {Math.min(listedAtOnce, shown.length - most)} more of {shown.length - most}
          </Button>
        </div>
      )}
    </section>
  );
}

interface FilterProps {
  readonly summary: VerdictSummary;
  readonly filter: VerdictFilter;
  readonly onChange: (next: Partial<VerdictFilter>) => void;
}

/** How many of each kind there are; one that is pressed shows its own alone. */
function Outcomes({ summary, filter, onChange }: FilterProps) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would be drawn as a part of a form
    <div className={styles.outcomes} role="group" aria-label="How many of each; press to show them alone">
      {outcomesInOrder.map((outcome) => (
        <button
          key={outcome}
          type="button"
          className={[styles.outcome, styles[outcome]].join(' ')}
          aria-pressed={filter.outcome === outcome}
          disabled={summary.counts[outcome] === 0 && filter.outcome !== outcome}
          onClick={() => onChange({ outcome: filter.outcome === outcome ? null : outcome })}
        >
          <span className={styles.number}>
            {summary.counts[outcome]}
            <Icon name={verdictIcons[outcome]} />
          </span>
          <span className={styles.word}>{verdictWords[outcome]}</span>
        </button>
      ))}
    </div>
  );
}

function PartChoice({ summary, filter, onChange }: FilterProps) {
  const options = [
    { id: 'all', label: 'All checks' },
    ...summary.parts.map(({ part, outcome }) => ({
      id: part as string,
      label: sentenceCase(judgedParts[part]),
      description: verdictWords[outcome],
    })),
  ];
  return (
    <Choice
      label="Check"
      hideLabel
      options={options}
      chosen={filter.part ?? 'all'}
      onChoose={(id) => onChange({ part: id === 'all' ? null : (id as JudgedPart) })}
    />
  );
}

function sentenceCase(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function CopyAndSave({
  shown,
  onCopy,
  onSave,
}: Pick<VerdictsViewProps, 'onCopy' | 'onSave'> & { readonly shown: readonly SummarisedVerdict[] }) {
  return (
    <div className={styles.actions}>
      <CopyButton small rows={shown.length} onCopy={() => onCopy(shown)} />
      <Button small isDisabled={shown.length === 0} onPress={() => onSave(shown)}>
        <Icon name="save" />
        Save as CSV
      </Button>
    </div>
  );
}

function Group({ group, ...props }: VerdictsViewProps & { readonly group: VerdictGroup }) {
  const { style } = props;
  const { part, rule, verdict, limits } = group.first;
  const title = `${sentenceCase(judgedParts[part])}: ${verdictWords[verdict.outcome]}, ${rule.title}`;
  return (
    <section className={[styles.group, styles[verdict.outcome]].join(' ')} aria-label={title}>
      <header className={styles.head}>
        <h3>{sentenceCase(judgedParts[part])}</h3>
        <VerdictSign outcome={verdict.outcome} />
      </header>
      <p className={styles.rule}>
        {rule.title}
        {group.isOneClause && `, ${verdict.clause}`}
        {verdict.decision === 'simple-acceptance' && '; the value alone decides'}
        {group.isOneLimit && limits !== null && `; allowed ${inWords(limitsShown(limits, verdict.unit, style))}`}
      </p>
      <ol className={styles.list}>
        {group.verdicts.map((one, i) => (
          <OneVerdict key={keyOf(one, i)} {...props} verdict={one} group={group} />
        ))}
      </ol>
    </section>
  );
}

function keyOf({ judged, captureId, verdict }: SummarisedVerdict, i: number): string {
  return `${judged} ${captureId} ${verdict.unit} ${i}`;
}

function OneVerdict({
  verdict: one,
  group,
  asked,
  onAsk,
  style,
}: Pick<VerdictsViewProps, 'asked' | 'onAsk' | 'style'> & {
  readonly verdict: SummarisedVerdict;
  readonly group: VerdictGroup;
}) {
  const { part, judged, captureId, takenAt, verdict, limits, flags, remark } = one;
  const measured = inWords(figureWithUncertainty(verdictFigure(verdict, style), style));
  return (
    <li className={styles.one}>
      <div className={styles.line}>
        <span className={styles.judged}>{sentenceCase(judged)}</span>
        {one.asked === null ? (
          <span className={styles.soft}>nothing measured</span>
        ) : (
          <Figure
            name={`${sentenceCase(judgedParts[part])}, ${judged}: ${verdictWords[verdict.outcome]},`}
            text={verdict.measured === null ? 'nothing measured' : measured}
            asked={one.asked}
            onAsk={onAsk}
            isAsked={isSame(asked, one.asked)}
          />
        )}
      </div>
      {!group.isOneLimit && limits !== null && (
        <p className={styles.soft}>
          allowed {inWords(limitsShown(limits, verdict.unit, style))}
          {!group.isOneClause && `, ${verdict.clause}`}
        </p>
      )}
      {captureId !== null && <p className={styles.soft}>{placeOf(captureId, takenAt)}</p>}
      {remark !== null && <p className={styles.remark}>{sentenceCase(remark)}</p>}
      {verdict.outcome !== 'pass' &&
        flags.map((flag) => (
          <p key={flag} className={styles.remark}>
            {flagTexts[flag].sentence}
          </p>
        ))}
    </li>
  );
}

/** Its file, and when it was taken: the date and the minute. */
function placeOf(captureId: string, takenAt: string | null): string {
  const file = captureId.replace(/#[^#]*$/, '');
  const minute = /^(\d{4}-\d\d-\d\d)[T ](\d\d:\d\d)/.exec(takenAt ?? '');
  return minute === null ? file : `${file} · ${minute[1]} ${minute[2]}`;
}
