import { beforeEach, describe, expect, it, vi } from 'vitest';
import { answers, calls, callsOf, drafts, forget, refusal } from '../testing/fakeShell';
import { job } from '../testing/samples';
import { settled } from '../testing/screen';
import { EntryForm } from './form.svelte';
import { open } from './job.svelte';

vi.mock('../backend/shell', () => import('../testing/fakeShell'));

const made = (): EntryForm<{ text: string }> =>
  new EntryForm({ job: () => 'j1', name: () => 'note', records: () => 7, fresh: () => ({ text: '' }) });
const onDisk = (): string => drafts.get('j1 note') ?? '';

beforeEach(() => {
  forget();
  vi.useRealTimers();
  open.view = job();
});

describe('a draft', () => {
  it('is on disk with the first letter, and with the last 300 ms later', async () => {
    vi.useFakeTimers();
    const form = made();
    for (const text of ['a', 'ab', 'abc']) form.change({ text });
    await vi.advanceTimersByTimeAsync(0);
    expect(onDisk()).toContain('"a"');
    await vi.advanceTimersByTimeAsync(300);
    expect(onDisk()).toContain('"abc"');
    expect(form.saved.now.state).toBe('kept');
    expect(form.kept.now.state).toBe('idle');
  });

  it('goes to disk whole when the page is left while an earlier write hangs', async () => {
    vi.useFakeTimers();
    const form = made();
    answers.draft_keep = () => new Promise(() => {});
    form.change({ text: 'a' });
    await vi.advanceTimersByTimeAsync(0);
    form.change({ text: 'ab' });
    // Its turn comes, but it stands behind the one that hangs.
    await vi.advanceTimersByTimeAsync(300);
    expect(callsOf('draft_keep').map((sent) => sent.text)).toEqual(['{"text":"a"}']);
    form.leave();
    expect(callsOf('draft_keep').at(-1)?.text).toBe('{"text":"ab"}');
  });

  it('is taken up again', async () => {
    drafts.set('j1 note', '{"text":"left"}');
    const form = made();
    expect(form.ready).toBe(false);
    await form.load();
    expect([form.ready, form.value.text]).toEqual([true, 'left']);
  });

  it('goes to disk without waiting when the page is left', () => {
    const form = made();
    form.change({ text: 'a' });
    form.change({ text: 'ab' });
    form.leave();
    expect(callsOf('draft_keep').at(-1)?.text).toContain('"ab"');
  });

  it('that could not be written says so and is tried again', async () => {
    const form = made();
    const keep = answers.draft_keep;
    answers.draft_keep = refusal('disk_full');
    form.change({ text: 'a' });
    await settled();
    expect(form.saved.now.state).toBe('failed');
    if (keep) answers.draft_keep = keep;
    await form.flush();
    expect(onDisk()).toContain('"a"');
  });
});

describe('a record', () => {
  it('settles its draft: what was typed is on disk before, and nothing is written after', async () => {
    const form = made();
    answers.note_keep = () => job({ records: 8 });
    form.change({ text: 'a' });
    form.change({ text: 'ab' });
    const { call } = await import('../backend/shell');
    await form.seal((settles) => call('note_keep', { form: settles, entry: form.value }));
    expect(callsOf('note_keep')).toEqual([
      { form: { job: 'j1', draft: 'note', records: 7 }, entry: { text: 'ab' } },
    ]);
    expect(onDisk()).toContain('"ab"');
    expect(calls.at(-1)?.command).toBe('note_keep');
    await new Promise((later) => setTimeout(later, 350));
    expect(calls.at(-1)?.command).toBe('note_keep');
    expect([form.value.text, form.kept.now.state, open.view?.records]).toEqual(['', 'kept', 8]);
  });

  it('that is refused loses nothing, and says so until something is changed', async () => {
    const form = made();
    form.change({ text: 'a' });
    const { call } = await import('../backend/shell');
    answers.note_keep = refusal('reading_out_of_range');
    await form.seal((settles) => call('note_keep', { form: settles }));
    expect([form.failure?.code, form.value.text]).toEqual(['reading_out_of_range', 'a']);
    expect(onDisk()).toContain('"a"');
    form.change({ text: 'b' });
    expect(form.failure).toBeNull();
  });

  it('of a job that moved shows the job anew and keeps what was entered', async () => {
    const form = made();
    form.change({ text: 'a' });
    const { call } = await import('../backend/shell');
    answers.note_keep = refusal('job_moved');
    answers.job_view = () => job({ records: 9 });
    await form.seal((settles) => call('note_keep', { form: settles }));
    expect(open.view?.records).toBe(9);
    expect([form.failure?.code, form.value.text]).toEqual(['job_moved', 'a']);
  });
});
