import type { Desk } from './desk.ts';
import { decisionsOf } from './evaluating.ts';
import { suggestedNameOf } from './review-actions.ts';
import type { Actions } from './workbench-state.ts';

type ReportActions = Pick<Actions, 'makeReport' | 'makePackage' | 'verifyPackage'>;

/** What leaves the workbench for good: the report, the package, and whether a package is still what it was. Nothing of it changes the review. */
export function reportActions(desk: Desk): ReportActions {
  const { engine, host, store } = desk;
  const version = async () => (await host.about()).version;

  /** The review as it stands, once the worker knows its files. */
  async function asItStands() {
    await desk.evaluations.settled();
    const { review } = desk.document;
    const { name, unsaved, style } = store.getState();
    return {
      decisions: decisionsOf(review),
      name: suggestedNameOf(review, name),
      sha256: unsaved ? null : desk.version,
      version: await version(),
      style,
    };
  }

  return {
    makeReport: async () => engine.ask('report', await asItStands()),
    async makePackage(manner) {
      const { decisions, name, version: made } = await asItStands();
      return engine.ask('package', { decisions, name, version: made }, manner);
    },
    verifyPackage: async (file, manner) =>
      engine.ask('verify', { file: file.name, content: file, version: await version() }, manner),
  };
}
