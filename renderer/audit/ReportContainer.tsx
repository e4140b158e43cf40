import { useDeferredValue, useEffect, useMemo, useRef, useState } from 'react';
import { verdictSummary } from '../../core/check/verdict-summary.ts';
import { problem } from '../../core/outcome.ts';
import type { Packed, Verified } from '../engine/messages.ts';
import { Cancelled } from '../engine/pauses.ts';
import { fileStem } from '../host/file-stem.ts';
import type { Host } from '../host/host.ts';
import { useWorkbench } from '../state/workbench.ts';
import { ReportPreview } from './ReportPreview.tsx';
import { type Paper, ReportSteps, type Work } from './ReportSteps.tsx';

const none = { state: 'none' } as const;

/** The record, the report and the package, as the workbench has them. */
export function ReportContainer({ host }: { readonly host: Host }) {
  const review = useWorkbench((workbench) => workbench.review);
  const name = useWorkbench((workbench) => workbench.name);
  const captures = useWorkbench(({ captures: all }) => all.size);
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluationOf = useDeferredValue(useWorkbench((workbench) => workbench.evaluationOf));
  const evaluating = useDeferredValue(useWorkbench((workbench) => workbench.evaluating));
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const [paper, setPaper] = useState<Paper>('A4');
  const [report, setReport] = useState<Work<null>>(none);
  const [preview, setPreview] = useState<string | null>(null);
  const [packing, setPacking] = useState<Work<Packed>>(none);
  const [verifying, setVerifying] = useState<Work<Verified & { readonly file: string }>>(none);
  const stop = useRef<AbortController | null>(null);
  useEffect(() => () => stop.current?.abort(), []);
  const summary = useMemo(
    () => (evaluation === null || evaluationOf === null ? null : verdictSummary(evaluationOf, evaluation, style)),
    [evaluation, evaluationOf, style],
  );
  const stem = fileStem(name ?? review.title);

  /** Makes the page and hands it on; what keeps it from being made stands in the step. */
  async function withPage(use: (page: string) => unknown): Promise<void> {
    setReport({ state: 'working', progress: null });
    setReport(
      await tried(async () => {
        const made = await actions.makeReport();
        if (!made.ok) return { state: 'wrong', problems: made.problems };
        await use(made.value);
        return none;
      }),
    );
  }
  const save = (page: string) => host.saveText(`${stem}-report.html`, 'text/html', page);
  const print = (page: string) => host.printPage({ suggestedName: `${stem}-report.pdf`, page, paper });

  async function makePackage(): Promise<void> {
    const control = begin(stop);
    const onProgress = (progress: { done: number; total: number }) => setPacking({ state: 'working', progress });
    setPacking({ state: 'working', progress: null });
    setPacking(
      await tried(async () => {
        const made = await actions.makePackage({ signal: control.signal, onProgress });
        if (!made.ok) return { state: 'wrong', problems: made.problems };
        const isSaved = await host.saveBytes(`${stem}-evidence.zip`, made.value.content);
        return isSaved ? { state: 'done', result: made.value } : none;
      }),
    );
  }

  async function verify(file: File): Promise<void> {
    const control = begin(stop);
    const onProgress = (progress: { done: number; total: number }) => setVerifying({ state: 'working', progress });
    setVerifying({ state: 'working', progress: null });
    setVerifying(
      await tried(async () => {
        const verified = await actions.verifyPackage(file, { signal: control.signal, onProgress });
        if (!verified.ok) return { state: 'wrong', problems: verified.problems };
        return { state: 'done', result: { ...verified.value, file: file.name } };
      }),
    );
  }

  return (
    <>
      <ReportSteps
        record={review.record}
        onRecord={(record) => void actions.edit({ kind: 'set-record', record })}
        notes={review.notes}
        onNotes={(notes) => void actions.edit({ kind: 'set-notes', notes })}
        summary={summary}
        isEvaluating={evaluating}
        hasCaptures={captures > 0}
        report={report}
        paper={paper}
        onPaper={setPaper}
        onPreview={() => void withPage(setPreview)}
        onSaveReport={() => void withPage(save)}
        onPrint={() => void withPage(print)}
        packing={packing}
        onPackage={() => void makePackage()}
        verifying={verifying}
        onVerify={(file) => void verify(file)}
        onCancel={() => stop.current?.abort()}
      />
      <ReportPreview
        page={preview}
        onClose={() => setPreview(null)}
        onSave={() => preview !== null && void handedOn(save(preview)).then(setReport)}
        onPrint={() => preview !== null && void handedOn(print(preview)).then(setReport)}
      />
    </>
  );
}

function begin(stop: { current: AbortController | null }): AbortController {
  stop.current?.abort();
  stop.current = new AbortController();
  return stop.current;
}

function handedOn(done: Promise<unknown>): Promise<Work<null>> {
  return tried(async () => {
    await done;
    return none;
  });
}

/** What the host or the worker refuses stands in the step, in its own words; what was cancelled is as if never begun. */
async function tried<Result>(work: () => Promise<Work<Result>>): Promise<Work<Result>> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof Cancelled) return none;
    const sentence = error instanceof Error ? error.message : String(error);
    return { state: 'wrong', problems: [problem('refused', { file: 'report' }, sentence)] };
  }
}
