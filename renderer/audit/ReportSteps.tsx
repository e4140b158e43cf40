import { outcomesInOrder, type VerdictSummary } from '../../core/check/verdict-summary.ts';
import type { Difference } from '../../core/evidence/compare.ts';
import { differencesCounted } from '../../core/evidence/verify-package.ts';
import { verdictWords } from '../../core/origin/verdict-words.ts';
import type { Problem } from '../../core/outcome.ts';
import type { Progress as Done, Packed, Verified } from '../engine/messages.ts';
import { Button } from '../parts/Button.tsx';
import { Toggle } from '../parts/Choice.tsx';
import { Icon } from '../parts/Icon.tsx';
import { Progress } from '../parts/Progress.tsx';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import { FileButton } from '../procedures/FileButton.tsx';
import stepStyles from '../procedures/Step.module.css';
import { Step, Steps } from '../procedures/Step.tsx';
import { RecordSteps, type RecordStepsProps } from './RecordSteps.tsx';
import styles from './Report.module.css';

export type Paper = 'A4' | 'Letter';

/** Long work with its end: what came of it, or what is wrong. */
export type Work<Result> =
  | { readonly state: 'none' }
  | { readonly state: 'working'; readonly progress: Done | null }
  | { readonly state: 'done'; readonly result: Result }
  | { readonly state: 'wrong'; readonly problems: readonly Problem[] };

export interface ReportStepsProps extends RecordStepsProps {
  /** `null` as long as nothing was evaluated. */
  readonly summary: VerdictSummary | null;
  readonly isEvaluating: boolean;
  readonly hasCaptures: boolean;
  readonly report: Work<null>;
  readonly paper: Paper;
  readonly onPaper: (paper: Paper) => void;
  readonly onPreview: () => void;
  readonly onSaveReport: () => void;
  readonly onPrint: () => void;
  readonly packing: Work<Packed>;
  readonly onPackage: () => void;
  readonly verifying: Work<Verified & { readonly file: string }>;
  readonly onVerify: (file: File) => void;
  readonly onCancel: () => void;
}

/** The record, the report, the package: what is left behind when the review is done. */
export function ReportSteps(props: ReportStepsProps) {
  return (
    <Steps label="Report">
      <RecordSteps {...props} />
      <PageStep {...props} />
      <PackageStep {...props} />
      <VerifyStep {...props} />
    </Steps>
  );
}

const papers = [
  { id: 'A4', label: 'A4' },
  { id: 'Letter', label: 'Letter' },
] as const;

function PageStep({
  summary,
  isEvaluating,
  hasCaptures,
  report,
  paper,
  onPaper,
  onPreview,
  onSaveReport,
  onPrint,
}: ReportStepsProps) {
  const isBusy = report.state === 'working';
  return (
    <Step
      title="Report"
      state={
        report.state === 'wrong' ? 'wrong' : isBusy || isEvaluating ? 'working' : hasCaptures ? 'optional' : 'needs'
      }
      word={report.state === 'wrong' ? null : isBusy ? 'being made …' : hasCaptures && !isEvaluating ? 'ready' : null}
      summary={hasCaptures ? countsOf(summary) : 'Needs captures to report on.'}
    >
      <p className={stepStyles.note}>
        One page that needs nothing else: the record, every result with its arithmetic, plots, and the SHA-256 of every
        file. The same review and captures give the same page, byte for byte.
      </p>
      {report.state === 'wrong' && <Wrong label="What keeps the report from being made" problems={report.problems} />}
      <div className={stepStyles.actions}>
        <Button kind="main" isDisabled={!hasCaptures || isBusy} onPress={onPreview}>
          Preview …
        </Button>
        <Button isDisabled={!hasCaptures || isBusy} onPress={onSaveReport}>
          <Icon name="save" />
          Save as HTML
        </Button>
      </div>
      <div className={styles.print}>
        <Toggle label="Paper" options={papers} chosen={paper} onChoose={onPaper} />
        <Button isDisabled={!hasCaptures || isBusy} onPress={onPrint}>
          Print or save as PDF …
        </Button>
      </div>
    </Step>
  );
}

function countsOf(summary: VerdictSummary | null): string {
  if (summary === null || summary.verdicts.length === 0)
    return 'No rule was chosen: the report has figures and no verdicts.';
  const counts = outcomesInOrder
    .filter((outcome) => summary.counts[outcome] > 0)
    .map((outcome) => `${summary.counts[outcome]} ${verdictWords[outcome]}`);
  return `${summary.verdicts.length} verdicts: ${counts.join(', ')}.`;
}

function Wrong({ label, problems }: { readonly label: string; readonly problems: readonly Problem[] }) {
  return (
    <DoubtNotes
      label={label}
      doubts={problems.slice(0, 20).map(({ place, sentence }) => ({
        sentence: `${sentence} (${[place.file, place.line, place.column].filter((part) => part !== null).join(':')})`,
        advice: null,
      }))}
    />
  );
}

function PackageStep({ packing, onPackage, hasCaptures, onCancel }: ReportStepsProps) {
  const isBusy = packing.state === 'working';
  return (
    <Step
      title="Evidence package"
      state={packing.state === 'wrong' ? 'wrong' : isBusy ? 'working' : packing.state === 'done' ? 'found' : 'optional'}
      word={packing.state === 'done' ? 'saved' : null}
      summary="Captures, review, results and report in one ZIP file that anyone can verify years later."
    >
      <div className={stepStyles.actions}>
        <Button isDisabled={!hasCaptures || isBusy} onPress={onPackage}>
          <Icon name="save" />
          Save package …
        </Button>
      </div>
      {packing.state === 'working' && (
        <Progress label="Packing" share={shareOf(packing.progress)} onCancel={onCancel} />
      )}
      {packing.state === 'wrong' && (
        <Wrong label="What keeps the package from being made" problems={packing.problems} />
      )}
      {packing.state === 'done' && (
        <>
          <dl className={stepStyles.figures}>
            <dt>Files</dt>
            <dd>{packing.result.files}</dd>
            <dt>Size</dt>
            <dd>{sizeWords(packing.result.content.size)}</dd>
            <dt>SHA-256</dt>
            <dd className={styles.hash}>{packing.result.sha256}</dd>
          </dl>
          <p className={stepStyles.note}>
            Keep that hash apart from the package, in the signed record say: by it anyone can tell whether the package
            was changed.
          </p>
        </>
      )}
    </Step>
  );
}

function VerifyStep({ verifying, onVerify, onCancel }: ReportStepsProps) {
  const { state } = verifying;
  const isSame = state === 'done' && verifying.result.same;
  return (
    <Step
      title="Verify a package"
      state={
        state === 'working' ? 'working' : state === 'none' ? 'optional' : state === 'done' && isSame ? 'found' : 'wrong'
      }
      word={state === 'done' ? (isSame ? 'as it was' : 'not as it was') : null}
      summary="Every hash and every result is worked out anew; nothing of the package is taken into this review."
    >
      <div className={stepStyles.actions}>
        <FileButton label="Package …" accept={['.zip', 'application/zip']} onFile={onVerify} />
      </div>
      {verifying.state === 'working' && (
        <Progress label="Verifying" share={shareOf(verifying.progress)} onCancel={onCancel} />
      )}
      {verifying.state === 'wrong' && (
        <Wrong label="Why the package cannot be verified" problems={verifying.problems} />
      )}
      {verifying.state === 'done' && <Verdict {...verifying.result} />}
    </Step>
  );
}

function Verdict({
  file,
  same,
  files,
  compared,
  madeBy,
  bytes,
  sha256,
  problems,
  differences,
  reportLeftOut,
}: Verified & {
  readonly file: string;
}) {
  return (
    <div className={styles.verification} role="status">
      <p className={same ? styles.same : styles.other}>
        <Icon name={same ? 'check' : 'cross'} />
        {same
          ? `${files} files are what was packed, and ${compared} files of results and report are the same when worked out anew.`
          : `The package is not what it says it is: ${problems.length} ${problems.length === 1 ? 'file or content is' : 'files or contents are'} wrong, and ${differencesCounted(differences)} ${differences.length === 1 ? 'figure differs' : 'figures differ'}.`}
      </p>
      <dl className={stepStyles.figures}>
        <dt>Package</dt>
        <dd className={styles.file}>
          {file}, {sizeWords(bytes)}
        </dd>
        <dt>Made by</dt>
        <dd>{madeBy}</dd>
        <dt>SHA-256</dt>
        <dd className={styles.hash}>{sha256}</dd>
      </dl>
      <Wrong label="Files that are not what was packed" problems={problems} />
      {differences.length > 0 && <Differences differences={differences} />}
      {reportLeftOut !== null && <p className={stepStyles.note}>{reportLeftOut}</p>}
    </div>
  );
}

const mostShown = 50;

function Differences({ differences }: { readonly differences: readonly Difference[] }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what is wider than the column is scrolled by the keyboard too
    <section className={stepStyles.scroll} tabIndex={0} aria-label="Figures that differ">
      <table className={stepStyles.table}>
        <thead>
          <tr>
            <th>File, row, figure</th>
            <th className={stepStyles.number}>In the package</th>
            <th className={stepStyles.number}>Worked out anew</th>
          </tr>
        </thead>
        <tbody>
          {differences.slice(0, mostShown).map(({ file, row, figure, packed, anew }) => (
            <tr key={`${file} ${row} ${figure} ${packed}`}>
              <td className={styles.file}>
                {[file, row === null ? null : `row ${row}`, figure].filter((part) => part !== null).join(', ')}
              </td>
              <td className={stepStyles.number}>{packed ?? 'nothing'}</td>
              <td className={stepStyles.number}>{anew ?? 'nothing'}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {differences.length > mostShown && <p className={stepStyles.note}>{differences.length - mostShown} more.</p>}
    </section>
  );
}

function shareOf(progress: Done | null): number | null {
  return progress === null || progress.total === 0 ? null : progress.done / progress.total;
}

function sizeWords(bytes: number): string {
  if (bytes < 1e6) return `${Math.max(1, Math.round(bytes / 1e3))} kB`;
  return `${(bytes / 1e6).toFixed(1)} MB`;
}
