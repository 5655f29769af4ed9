import type { DiagnosisView } from './bindings/DiagnosisView';

/** What to do next: take a test, take one that the gate before a module lacks, or write down what was found. */
export type NextStep = { step: 'test' | 'gate' | 'finding'; test: string; module: string };

/** The core's next step; one that doesn't say it yet offers its first test, then what a module's gate lacks. */
export function nextStep(diagnosis: DiagnosisView & { next_step?: unknown }): NextStep {
  if (diagnosis.next_step) return diagnosis.next_step as NextStep;
  const offered = diagnosis.next[0]?.test;
  if (offered) return { step: 'test', test: offered, module: '' };
  const lacking = diagnosis.modules
    .flatMap((module) => module.missing)
    .find((missing) => missing.test !== '');
  if (lacking) return { step: 'gate', test: lacking.test, module: '' };
  return { step: 'finding', test: '', module: '' };
}
