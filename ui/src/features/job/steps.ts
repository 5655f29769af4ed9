import type { JobView } from '../../bindings/JobView';
import type { StepView } from '../../bindings/StepView';
import { address } from '../../state/router.svelte';
import { say, sayCode } from '../../words';
import { both } from '../../words/both';

/** The screen of a step. */
export function stepAddress(job: string, step: string): string {
  return address('job', job, step.replace('_', '-'));
}

/** How a step stands, in a few words. */
export function stepState(step: StepView): string {
  if (step.state === 'waits') return sayCode('waiting', step.waits_for);
  if (step.state === 'done') return say('step_done', { count: step.count });
  return say(step.state === 'refused' ? 'step_refused' : 'step_open');
}

/** Where the next step leads, and what its button says. */
export function nextStep({ job, next, circuit }: JobView): { href: string; label: string } {
  const test = circuit?.tests.find((one) => one.id === next.test);
  if (next.step === 'reading' && test)
    return {
      href: address('job', job, 'reading', test.id),
      label: say('go_on_reading', { test: both(test.title) }),
    };
  return {
    href: stepAddress(job, next.step),
    label: say('go_on', { station: sayCode('station', next.step) }),
  };
}
