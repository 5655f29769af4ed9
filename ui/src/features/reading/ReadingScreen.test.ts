import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import type { ProposalView } from '../../bindings/ProposalView';
import { open } from '../../state/job.svelte';
import { answers, callsOf, drafts, forget, refusal } from '../../testing/fakeShell';
import { circuit, diagnosis, job, reading, test, text } from '../../testing/samples';
import { clear, count, one, pick, press, settled, show, textOf } from '../../testing/screen';
import { readingFor } from './reading';
import Reading from './Reading.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

/** jsdom has no camera: the way on without a photo is taken where it is offered. */
async function openTest(about: string): Promise<void> {
  await clear();
  show(Reading, {
    get view() {
      return open.view as JobView;
    },
    about,
  });
  await settled();
  if (count('[data-name=without-photo]') > 0) await press('without-photo');
}

async function key(name: string): Promise<void> {
  one(`[data-key="${name}"]`).click();
  await settled();
}

async function enter(digits: string): Promise<void> {
  for (const digit of digits) await key(digit);
}

const value = (): string => one<HTMLInputElement>('[name=value]').value;
const keep = (): HTMLButtonElement => one<HTMLButtonElement>('[data-name=keep-reading]');

beforeEach(() => {
  forget();
  location.hash = '';
  open.view = job({ intake: { ...job().intake, complaint: 'The horn never sounds. ' } });
  answers.camera_intent_keep = () => null;
  answers.camera_intent_take = () => null;
});
afterEach(clear);

describe('a reading', () => {
  it('says what is missing until it says what it will write', async () => {
    await openTest('a');
    expect([textOf('[data-name=keep-reading]'), keep().disabled]).toEqual(['Enter the value first', true]);
    await enter('0.31');
    expect([textOf('[data-name=keep-reading]'), keep().disabled]).toEqual([
      'First say what it does right now',
      true,
    ]);
    expect(textOf('.question')).toBe('Right now: “The horn never sounds”?');
    await pick('complaint', 'no');
    expect([textOf('[data-name=keep-reading]'), keep().disabled]).toEqual(['Keep 0.31 V', false]);
    expect(keep().dataset.log).toBe('');
  });

  it('asks anew what the car does right now, whatever was said last', async () => {
    open.view = job({ readings: [reading(1, { complaint_present: 'no' })] });
    await openTest('b');
    expect(count('[data-name=complaint] .picked')).toBe(0);
    expect(count('[data-name=complaint] input:checked')).toBe(0);
  });

  it('that is refused says so in the thumb’s reach, and nothing there looks kept', async () => {
    await openTest('a');
    await enter('99999');
    await pick('complaint', 'yes');
    answers.reading_keep = refusal('reading_out_of_range');
    await press('keep-reading');
    expect(textOf('section.hand [role=alert]')).toContain('No hand-held meter reads that high.');
    expect(count('main [role=alert]')).toBe(0);
    expect(document.body.textContent).not.toMatch(/on record|kept \d/);
    expect(drafts.get('j1 reading:a')).toContain('99999');
  });

  it('that is half entered stays while another test is looked at, and goes on at its value', async () => {
    await openTest('a');
    await enter('7');
    await openTest('b');
    expect(value()).toBe('');
    await enter('4');
    await clear();
    await openTest('a');
    expect(value()).toBe('7');
    expect([...drafts.keys()].sort()).toEqual(['j1 reading:a', 'j1 reading:b']);
  });

  it('takes every number of a recording that its test asks for', async () => {
    const lowest = { ...test('a'), compares: 'lowest' as const };
    open.view = job({ circuit: { ...circuit(), tests: [lowest] } });
    await openTest('a');
    await enter('9.6');
    expect(one<HTMLInputElement>('[name=lowest]').value).toBe('9.6');
    await pick('which-number', 'value');
    await enter('12');
    await pick('complaint', 'yes');
    expect(textOf('[data-name=keep-reading]')).toBe('Keep 12 V, lowest 9.6 V');
  });

  it('that corrects another has a draft of its own, and no camera opens for it', async () => {
    open.view = job({ readings: [reading(1), reading(2)] });
    await openTest('correct-record-2');
    one('[data-slot=value]').click();
    await settled();
    await key('5');
    expect([...drafts.keys()]).toEqual(['j1 correction:record-2']);
    expect(callsOf('camera_intent_keep')).toEqual([]);
  });
});

describe('the number on the photo', () => {
  const proposal = (part: Partial<ProposalView> = {}): ProposalView => ({
    photo: 'p1',
    value: '6.02',
    says: 'shows',
    look: [],
    remark: null,
    ...part,
  });

  async function openPhoto(seen: ProposalView | Promise<ProposalView>): Promise<void> {
    answers.photo_seen = () => seen;
    drafts.set(
      'j1 reading:a',
      JSON.stringify({ entry: { ...readingFor(test('a')), photos: ['p1'] }, reason: '' }),
    );
    await openTest('a');
    await settled();
  }

  it('is offered beside the empty field, taken with one tap, and never without it', async () => {
    await openPhoto(proposal());
    expect(value()).toBe('');
    expect(textOf('[data-name=take-seen]')).toBe('The photo shows 6.02 Take 6.02 V');
    await press('take-seen');
    expect([value(), count('[data-name=take-seen]')]).toEqual(['6.02', 0]);
    await pick('complaint', 'no');
    answers.reading_keep = () => job({ readings: [reading(1)] });
    await press('keep-reading');
    expect(callsOf('reading_keep')[0]?.entry).toMatchObject({
      value: '6.02',
      photo_taken: true,
      kept_against_photo: false,
    });
  });

  it('is not offered over what is typed, and keeps nobody waiting', async () => {
    await openPhoto(new Promise(() => undefined));
    expect(textOf('[data-name=seen-words]')).toBe('Reading the photo…');
    await enter('7');
    await pick('complaint', 'no');
    expect(keep().disabled).toBe(false);
    expect(count('[data-name=take-seen]') + count('[data-name=seen-words]')).toBe(0);
    expect(callsOf('photo_seen')).toHaveLength(1);
  });

  it('is said to be looked at where it is not sure, with the reason', async () => {
    await openPhoto(proposal({ says: 'may_show', value: '-6.02', look: ['minus'], remark: 'above_range' }));
    const words = textOf('[data-name=take-seen]');
    for (const part of [
      'The photo may show −6.02. Look.',
      'Is the minus really there?',
      'That is above the range you chose.',
      'Take −6.02 V',
    ])
      expect(words).toContain(part);
    await clear();
    await openPhoto(proposal({ says: 'nothing', value: '' }));
    expect(textOf('[data-name=seen-words]')).toBe('Type the number');
    expect(count('[data-name=take-seen]')).toBe(0);
  });

  it('that was contradicted is asked about at the button; the answer goes with the record', async () => {
    await openPhoto(proposal());
    await enter('60.2');
    await pick('complaint', 'no');
    answers.reading_keep = refusal('photo_shows_other', { seen: '6.02', typed: '60.2' });
    await press('keep-reading');
    expect(textOf('[data-name=against-photo]')).toContain('The photo seems to show 6.02. You typed 60.2.');
    expect(count('[data-name=keep-reading]') + count('[data-key]')).toBe(0);
    await press('change-value');
    expect([value(), count('[data-name=take-seen]')]).toEqual(['', 1]);
    await enter('60.2');
    await press('keep-reading');
    answers.reading_keep = () => job({ readings: [reading(1)] });
    await press('keep-against');
    expect(callsOf('reading_keep').at(-1)?.entry).toMatchObject({ value: '60.2', kept_against_photo: true });
  });
});

describe('a reading that was just kept', () => {
  const next = { step: 'test' as const, test: 'b', module: text(''), condition: null };

  async function keepSeven(): Promise<void> {
    await openTest('a');
    await enter('7');
    await pick('complaint', 'yes');
    answers.reading_keep = () =>
      job({ readings: [reading(1, { value: '7' })], diagnosis: diagnosis({ next_step: next }) });
    await press('keep-reading');
    await openTest('b');
  }

  it('settles its own draft and says so over the next test, which is a tap away', async () => {
    await keepSeven();
    expect(callsOf('reading_keep')[0]?.form).toEqual({ job: 'j1', draft: 'reading:a', records: null });
    expect(location.hash).toBe('#/job/j1/reading/b');
    expect(textOf('[data-name=reading-kept]')).toContain('Reading 1 is on record: 7 V');
    await press('next-reading');
    expect(count('[data-name=reading-kept]')).toBe(0);
    expect(textOf('[data-name=test-title]')).toBe('Test b');
  });

  it('is taken back by a record, and what was entered stands at its test again', async () => {
    await keepSeven();
    expect(textOf('[data-name=undo-reading]')).toMatch(/Undo \d+ s/);
    answers.reading_withdraw = () =>
      job({ readings: [reading(1, { corrected_by: 'x', withdrawn: true })], diagnosis: diagnosis() });
    await press('undo-reading');
    const [sent] = callsOf('reading_withdraw');
    expect(sent?.entry).toEqual({ corrects: 'record-1', reason: 'Undone right after it was kept' });
    expect(location.hash).toBe('#/job/j1/reading/a');
    await clear();
    await openTest('a');
    expect(value()).toBe('7');
    expect(one('[data-name=complaint] .picked').dataset.value).toBe('yes');
  });

  it('can be corrected, no longer undone, once ten seconds are over', async () => {
    vi.useFakeTimers({ toFake: ['Date', 'setInterval', 'clearInterval'] });
    try {
      await keepSeven();
      expect(count('[data-name=undo-reading]')).toBe(1);
      vi.advanceTimersByTime(10_500);
      await settled();
      expect(count('[data-name=undo-reading]')).toBe(0);
      expect(one<HTMLAnchorElement>('[data-name=correct-last]').hash).toBe(
        '#/job/j1/reading/correct-record-1',
      );
    } finally {
      vi.useRealTimers();
    }
  });
});
