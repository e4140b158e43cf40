import { create } from 'zustand';
import type { CalibrationFit, Review } from '../../core/review/review.ts';
import type { CalibrationResult } from '../../core/steps/calibrate.ts';

/**
 * A calibration that is being decided and is not in force yet. It is no part of the review, so that nothing is read with it before it is accepted; it is
 * kept here, so that it is still there when a person comes back from another procedure.
 */
export interface Proposal {
  /** The calibration in force when the proposal was begun; where that has become another, the proposal is void. */
  readonly base: Review['calibration'];
  readonly decision: CalibrationFit | null;
  /** What the fit gave last; that of the decision before while a new fit is awaited. */
  readonly result: CalibrationResult | null;
  /** The decision that `result` belongs to. */
  readonly fitted: CalibrationFit | null;
}

export const noProposal: Proposal = { base: null, decision: null, result: null, fitted: null };

export const useProposal = create<Proposal>(() => noProposal);

export function propose(base: Review['calibration'], decision: CalibrationFit): void {
  useProposal.setState((before) =>
    before.base === base ? { base, decision } : { base, decision, result: null, fitted: null },
  );
}

/** A fit that comes late, of a decision that has changed meanwhile, is dropped. */
export function proposalFitted(decision: CalibrationFit, result: CalibrationResult): void {
  useProposal.setState((before) => (before.decision === decision ? { result, fitted: decision } : before));
}

export function withdrawProposal(): void {
  useProposal.setState(noProposal);
}
