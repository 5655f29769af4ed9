import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import { open } from '../../state/job.svelte';
import { answers, callsOf, forget, refusal } from '../../testing/fakeShell';
import { cause, diagnosis, job } from '../../testing/samples';
import { clear, count, pick, press, settled, show, textOf, type } from '../../testing/screen';
import Finding from './Finding.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

beforeEach(async () => {
  forget();
  const causes = [cause('wire/open'), cause('module/weak', true)];
  open.view = job({ diagnosis: diagnosis({ causes }) });
  show(Finding, {
    get view() {
      return open.view as JobView;
    },
    about: '',
  });
  await settled();
});
afterEach(async () => {
  vi.restoreAllMocks();
  await clear();
});

describe('a finding', () => {
  it('with nothing picked is refused at its button', async () => {
    expect(count('[data-name=cause] input:checked')).toBe(0);
    answers.finding_keep = refusal('finding_nothing_picked');
    await press('keep-finding');
    expect(textOf('[data-name=refused]')).toContain('Nothing is picked.');
    expect(callsOf('finding_keep')[0]?.entry).toEqual({ words: '', cause: '', not_proven: false });
  });

  it.each([
    ['not_proven', 'Not proven: no cause is called', { cause: '', not_proven: true }],
    ['wire/open', 'Cause called: Cause wire/open', { cause: 'wire/open', not_proven: false }],
    ['module/weak', 'Module called: Cause module/weak', { cause: 'module/weak', not_proven: false }],
  ])('%s says what it will say and asks once', async (picked, words, entry) => {
    await pick('cause', picked);
    await type('finding_words', 'It is so.');
    await press('keep-finding');
    expect(callsOf('finding_keep')).toEqual([]);
    expect(textOf('[data-name=finding-will-say]')).toContain(words);
    answers.finding_keep = () => job({ records: 8 });
    await press('confirm-finding');
    // The second half of a double tap is no answer.
    expect(callsOf('finding_keep')).toEqual([]);
    const later = performance.now() + 500;
    vi.spyOn(performance, 'now').mockReturnValue(later);
    await press('confirm-finding');
    expect(callsOf('finding_keep')).toEqual([
      {
        form: { job: 'j1', draft: 'finding', records: 7 },
        entry: { words: 'It is so.', ...entry },
      },
    ]);
    expect(count('[data-name=confirm-finding]')).toBe(0);
    // Nor does the second half of a double tap on the answer ask again.
    await press('keep-finding');
    expect(count('[data-name=finding-will-say]')).toBe(0);
  });

  it('picked anew is asked about anew', async () => {
    await pick('cause', 'wire/open');
    await press('keep-finding');
    await pick('cause', 'not_proven');
    expect(count('[data-name=confirm-finding]')).toBe(0);
    expect(count('[data-name=keep-finding]')).toBe(1);
  });
});
