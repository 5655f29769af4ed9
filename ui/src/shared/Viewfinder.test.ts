import { createRawSnippet } from 'svelte';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { answers, calls, callsOf, forget, refusal } from '../testing/fakeShell';
import { clear, count, one, press, settled, show, textOf } from '../testing/screen';
import { troubleOf } from './camera.svelte';
import Viewfinder from './Viewfinder.svelte';

vi.mock('../backend/shell', () => import('../testing/fakeShell'));

/** A camera as the Media Capture and Streams specification of the W3C has it, as far as it is asked. */
class Track extends EventTarget {
  stopped = 0;
  torch = false;
  stop = (): void => void (this.stopped += 1);
  getCapabilities = (): { torch: boolean } => ({ torch: true });
  applyConstraints = ({ advanced }: { advanced: { torch: boolean }[] }): Promise<void> => {
    this.torch = advanced[0]?.torch ?? false;
    return Promise.resolve();
  };
}

let track: Track;
let photos: unknown[];
let without: number;

function camera(give: () => Promise<unknown>): void {
  Object.defineProperty(navigator, 'mediaDevices', {
    configurable: true,
    value: { getUserMedia: vi.fn(give) },
  });
}

function stream(): Promise<unknown> {
  return Promise.resolve({ getVideoTracks: () => [track], getTracks: () => [track] });
}

async function open(): Promise<void> {
  show(Viewfinder, {
    title: 'Reading 1',
    back: '#/',
    job: 'j1',
    purpose: 'reading' as const,
    form: 'reading:a',
    label: 'Photo of the meter',
    over: createRawSnippet(() => ({ render: () => '<p>leads</p>' })),
    without: 'Type it',
    onphoto: (photo: unknown) => photos.push(photo),
    onwithout: () => (without += 1),
  });
  await settled();
}

const state = (): string | undefined => one('[data-name=viewfinder]').dataset.state;

beforeEach(() => {
  forget();
  [track, photos, without] = [new Track(), [], 0];
  answers.camera_intent_keep = () => null;
  answers.camera_intent_take = () => null;
  answers.photo_keep = () => ({ sha256: 'ab' });
  HTMLMediaElement.prototype.pause = vi.fn();
  HTMLMediaElement.prototype.play = vi.fn(() => Promise.resolve());
  HTMLCanvasElement.prototype.getContext = vi.fn(() => ({ drawImage: vi.fn() })) as never;
  HTMLCanvasElement.prototype.toBlob = function (done): void {
    done({ arrayBuffer: () => Promise.resolve(new ArrayBuffer(4)) } as Blob);
  };
});
afterEach(async () => {
  await clear();
  Reflect.deleteProperty(navigator, 'mediaDevices');
});

describe('the viewfinder', () => {
  it('has on disk what it is open for before the camera opens, and forgets it when it closes', async () => {
    camera(() => {
      expect(calls.at(-1)?.command).toBe('camera_intent_keep');
      return stream();
    });
    await open();
    expect(callsOf('camera_intent_keep')).toEqual([{ job: 'j1', purpose: 'reading', form: 'reading:a' }]);
    expect([state(), callsOf('camera_intent_take').length]).toEqual(['live', 0]);
    await clear();
    await settled();
    expect([track.stopped, callsOf('camera_intent_take').length]).toEqual([1, 1]);
  });

  it('keeps the frame that it shows as a live one', async () => {
    camera(stream);
    await open();
    await press('shutter');
    expect(callsOf('photo_keep')).toEqual([{ about: { job: 'j1', purpose: 'reading', live: true } }]);
    expect(photos).toEqual([{ sha256: 'ab' }]);
  });

  it('says when a frame could not be kept, and goes on showing', async () => {
    camera(stream);
    await open();
    answers.photo_keep = refusal('disk_full');
    await press('shutter');
    expect(photos).toEqual([]);
    expect(count('section.hand [role=alert]')).toBe(1);
    expect(HTMLMediaElement.prototype.play).toHaveBeenCalled();
    answers.photo_keep = () => ({ sha256: 'cd' });
    await press('shutter');
    expect(photos).toEqual([{ sha256: 'cd' }]);
  });

  it('lights what it looks at where the phone can', async () => {
    camera(stream);
    await open();
    await press('light');
    expect([track.torch, one('[data-name=light]').getAttribute('aria-pressed')]).toEqual([true, 'true']);
  });

  it.each([
    ['NotAllowedError', 'denied', 'The camera is blocked for this app.'],
    ['NotFoundError', 'missing', 'No camera was found.'],
    ['NotReadableError', 'busy', 'The camera doesn’t start.'],
  ])('%s is said in words, with the way on', async (name, is, words) => {
    camera(() => Promise.reject(new DOMException('no', name)));
    await open();
    expect(state()).toBe(is);
    expect(textOf('.words')).toContain(words);
    expect([count('[name=reading-camera]'), count('[name=reading-file]')]).toEqual([1, 1]);
    expect(callsOf('camera_intent_take').length).toBe(1);
    await press('without-photo');
    expect(without).toBe(1);
    camera(stream);
    await press('view-again');
    expect(state()).toBe('live');
  });

  it('is missing in a web view that has no such thing', async () => {
    await open();
    expect(state()).toBe('missing');
  });

  it('asks again when the system took the camera away and the app is back', async () => {
    camera(stream);
    await open();
    track.dispatchEvent(new Event('ended'));
    await settled();
    expect(state()).toBe('busy');
    track = new Track();
    document.dispatchEvent(new Event('visibilitychange'));
    await settled();
    expect(state()).toBe('live');
  });
});

describe('what a web view throws', () => {
  it.each([
    ['NotAllowedError', 'denied'],
    ['SecurityError', 'denied'],
    ['NotFoundError', 'missing'],
    ['OverconstrainedError', 'missing'],
    ['NotReadableError', 'busy'],
    ['AbortError', 'busy'],
  ])('%s means %s', (name, is) => expect(troubleOf(new DOMException('', name))).toBe(is));
});
