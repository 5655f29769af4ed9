import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import { open } from '../../state/job.svelte';
import { answers, callsOf, drafts, forget, refusal } from '../../testing/fakeShell';
import { diagnosis, job, reading, text } from '../../testing/samples';
import { clear, count, one, press, settled, show, textOf } from '../../testing/screen';
import Reading from './Reading.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

async function openTest(about: string): Promise<void> {
  await clear();
  show(Reading, {
    get view() {
      return open.view as JobView;
    },
    about,
  });
  await settled();
}

async function key(name: string): Promise<void> {
  one(`[data-key="${name}"]`).click();
  await settled();
}

async function slot(id: string): Promise<void> {
  one(`[data-slot="${id}"]`).click();
  await settled();
}

beforeEach(() => {
  forget();
  location.hash = '';
  open.view = job();
});
afterEach(clear);

describe('a reading', () => {
  it('that is refused says so in the thumb’s reach, and nothing there looks kept', async () => {
    await openTest('a');
    await slot('value');
    for (const digit of ['9', '9', '9', '9', '9']) await key(digit);
    await slot('note');
    expect(textOf('[data-name=draft-sign]')).toBe('draft saved');
    answers.reading_keep = refusal('reading_out_of_range');
    await press('keep-reading');
    expect(textOf('section.hand [role=alert]')).toContain('No hand-held meter reads that high.');
    expect(count('main [role=alert]')).toBe(0);
    expect(document.body.textContent).not.toMatch(/on record|kept \d/);
    expect(drafts.get('j1 reading:a')).toContain('99999');
  });

  it('that is half entered stays while another test is looked at', async () => {
    await openTest('a');
    await slot('value');
    await key('7');
    await openTest('b');
    await slot('value');
    expect(one<HTMLInputElement>('[name=value]').value).toBe('');
    await key('4');
    await openTest('a');
    await slot('value');
    expect(one<HTMLInputElement>('[name=value]').value).toBe('7');
    expect([...drafts.keys()].sort()).toEqual(['j1 reading:a', 'j1 reading:b']);
  });

  it('that is kept settles its own draft and says so over the next test', async () => {
    await openTest('a');
    await slot('value');
    await key('7');
    await slot('note');
    answers.reading_keep = () =>
      job({
        readings: [reading(1, { value: '7' })],
        diagnosis: diagnosis({ next_step: { step: 'test', test: 'b', module: text(''), condition: null } }),
      });
    await press('keep-reading');
    expect(callsOf('reading_keep')[0]?.form).toEqual({ job: 'j1', draft: 'reading:a', records: null });
    expect(location.hash).toBe('#/job/j1/reading/b');
    await openTest('b');
    expect(textOf('[data-name=reading-kept]')).toContain('Reading 1 is on record: 7 V');
    await openTest('c');
    expect(count('[data-name=reading-kept]')).toBe(0);
  });

  it('that corrects another has a draft of its own', async () => {
    open.view = job({ readings: [reading(1), reading(2)] });
    await openTest('correct-record-2');
    await slot('value');
    await key('5');
    expect([...drafts.keys()]).toEqual(['j1 correction:record-2']);
  });

  it('asks anew what the car does right now, whatever was said last', async () => {
    open.view = job({ readings: [reading(1, { complaint_present: 'no' })] });
    await openTest('b');
    expect(textOf('[data-slot=complaint]')).toContain('to do');
  });
});
