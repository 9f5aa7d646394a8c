/**
 * What a few calculators show beside their numbers. Loaded only when there is an answer, so that no other calculator
 * loads it.
 */
import type { ComponentType } from 'preact';
import type { Calculator, RawInputs } from '../../../calculators/calculator.ts';
import type { Answer } from '../../../calculators/outcome.ts';

export interface BesideProps {
  calculator: Calculator;
  inputs: RawInputs;
  answer: Answer;
}

export const beside: Record<string, () => Promise<{ default: ComponentType<BesideProps> }>> = {
  'cough-session-plan': () => import('./SessionPacer.tsx'),
  'decline-rate': () => import('./DeclineChart.tsx'),
};
