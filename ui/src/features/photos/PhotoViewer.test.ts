import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import Photos from '../../shared/Photos.svelte';
import PhotoViewer from './PhotoViewer.svelte';
import PhotoGrid from './PhotoGrid.svelte';
import Marks from './Marks.svelte';
import type { JobPhotoView } from '../../bindings/JobPhotoView';
import type { PhotoView } from '../../bindings/PhotoView';
import { viewer } from '../../state/viewer.svelte';
import { answers, callsOf, drafts, forget, refusal } from '../../testing/fakeShell';
import { job } from '../../testing/samples';
import { clear, count, one, press, settled, show, textOf, type } from '../../testing/screen';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

// What a web view has and jsdom lacks.
HTMLDialogElement.prototype.showModal = vi.fn(function (this: HTMLDialogElement) {
  this.setAttribute('open', '');
});
HTMLDialogElement.prototype.close = vi.fn();
type Told = (entries: { target: Element; contentRect: { width: number; height: number } }[]) => void;
class Ruler {
  #told: Told;
  constructor(told: Told) {
    this.#told = told;
  }
  observe(target: Element): void {
    this.#told([{ target, contentRect: { width: 390, height: 500 } }]);
  }
  unobserve(): void {}
  disconnect(): void {}
}
vi.stubGlobal('ResizeObserver', Ruler);
window.matchMedia = vi.fn((query: string) =>
  Object.assign(new EventTarget(), { matches: query.includes(wide) }),
) as unknown as typeof window.matchMedia;
Element.prototype.setPointerCapture = vi.fn();
let wide = 'never';

beforeEach(() => {
  forget();
  wide = 'never';
});
afterEach(clear);

function photo(letter: string, part: Partial<PhotoView> = {}): PhotoView {
  return {
    sha256: letter.repeat(64),
    bytes: '4096000',
    media_type: 'image/jpeg',
    purpose: 'reading',
    taken: '2026-10-12T07:59:00',
    kept: '2026-10-12T08:00:00-05:00',
    width: 4000,
    height: 3000,
    has_preview: true,
    live: false,
    doubts: [],
    marks: [],
    ...part,
  };
}

function ofJob(letter: string, part: Partial<JobPhotoView> = {}): JobPhotoView {
  return { photo: photo(letter), step: 'readings', readings: [], in_papers: false, ...part };
}

const reading: JobPhotoView['readings'][number] = {
  record: 'r1',
  number: 3,
  test: 'a',
  value: '12.4',
  unit: 'V',
  range: '',
  lowest: '',
  highest: '',
  condition: null,
  counts: true,
};

function threePhotos(): void {
  answers.job_photos = () => [ofJob('a'), ofJob('b', { readings: [reading] }), ofJob('c')];
}

describe('the viewer', () => {
  it('shows a photo, what was read in it, when it was kept and its whole fingerprint', async () => {
    threePhotos();
    show(PhotoViewer, { shown: { job: 'j1', photo: photo('b', { doubts: ['no_capture_time'] }) } });
    await settled();
    expect(textOf('[data-name=viewer-place]')).toBe('2 of 3');
    expect(textOf('[data-name=photo-caption]')).toContain('Reading 3 12.4 V');
    expect(textOf('[data-name=photo-caption]')).toContain('Saved Oct 12, 2026, 8:00 AM');
    expect(textOf('[data-name=viewer-fingerprint]')).toBe('b'.repeat(64));
    expect(one<HTMLImageElement>('[data-name=zoom] img').src).toContain(`photo/preview/${'b'.repeat(64)}`);
  });

  it('turns over by button and by key, and stops at both ends', async () => {
    threePhotos();
    show(PhotoViewer, { shown: { job: 'j1', photo: photo('a') } });
    await settled();
    expect(one<HTMLButtonElement>('[data-name=viewer-before]').disabled).toBe(true);
    await press('viewer-after');
    const key = async (name: string): Promise<void> => {
      one('[data-name=viewer]').dispatchEvent(
        new KeyboardEvent('keydown', { key: name, bubbles: true, cancelable: true }),
      );
      await settled();
    };
    await key('ArrowRight');
    expect(textOf('[data-name=viewer-place]')).toBe('3 of 3');
    await key('PageDown');
    expect(textOf('[data-name=viewer-place]')).toBe('3 of 3');
    await key('ArrowLeft');
    expect(textOf('[data-name=viewer-place]')).toBe('2 of 3');
  });

  it('zooms by button; the arrows then move the picture and leave the photo', async () => {
    threePhotos();
    show(PhotoViewer, { shown: { job: 'j1', photo: photo('a') } });
    await settled();
    await press('viewer-larger');
    expect(one('[data-name=zoom]').dataset.scale).toBe('1.50');
    one('[data-name=viewer]').dispatchEvent(
      new KeyboardEvent('keydown', { key: 'ArrowRight', bubbles: true }),
    );
    await settled();
    expect(textOf('[data-name=viewer-place]')).toBe('1 of 3');
    await press('viewer-smaller');
    expect(one('[data-name=zoom]').dataset.scale).toBe('1.00');
  });

  it('shows before and after at once where there is room, and one after the other where there isn’t', async () => {
    answers.job_photos = () => [ofJob('a'), ofJob('b'), ofJob('c')];
    const pair: [PhotoView, PhotoView] = [photo('a'), photo('c')];
    show(PhotoViewer, { shown: { job: 'j1', photo: pair[0], pair } });
    await settled();
    expect(count('[data-name=zoom]')).toBe(1);
    expect(textOf('[data-name=viewer] h1')).toBe('Before');
    await press('viewer-after');
    expect(textOf('[data-name=viewer] h1')).toBe('After');
    await clear();
    wide = 'min-width';
    show(PhotoViewer, { shown: { job: 'j1', photo: pair[0], pair } });
    await settled();
    expect(count('[data-name=zoom]')).toBe(2);
  });

  it('opens from any small picture, closes with Back and gives the focus back', async () => {
    threePhotos();
    show(Photos, { photos: [photo('a'), photo('b', { has_preview: false })] });
    expect(count('[data-name=photo-open]')).toBe(2);
    const opener = one(`[data-photo="${'a'.repeat(64)}"]`);
    opener.focus();
    opener.click();
    expect(viewer.shown?.photo.sha256).toBe('a'.repeat(64));
    const gone = new Promise((resolve) => addEventListener('popstate', resolve, { once: true }));
    one('body').focus();
    viewer.close();
    await gone;
    await settled();
    expect(viewer.shown).toBeNull();
    expect(document.activeElement).toBe(opener);
  });
});

describe('the grid', () => {
  it('groups the photos by step, counts them, and finds those in no paper', async () => {
    answers.job_photos = () => [
      ofJob('a', { step: 'intake', in_papers: true }),
      ofJob('b', { readings: [reading] }),
      ofJob('c', { step: 'proof' }),
    ];
    show(PhotoGrid, { view: job(), about: '' });
    await settled();
    expect([...document.querySelectorAll('section')].map((group) => group.dataset.name)).toEqual([
      'photos-intake',
      'photos-readings',
      'photos-proof',
    ]);
    expect(textOf('[data-name=photos-readings]')).toContain('12.4 V');
    one<HTMLInputElement>('[data-value=loose] input').click();
    await settled();
    expect(count('[data-name=photo-cell]')).toBe(2);
  });

  it('draws 200 photos without asking for a picture that is out of sight', async () => {
    answers.job_photos = () =>
      Array.from({ length: 200 }, (_, place) => ({
        ...ofJob('a'),
        photo: photo('a', { sha256: place.toString(16).padStart(64, '0') }),
      }));
    show(PhotoGrid, { view: job(), about: '' });
    await settled();
    expect(count('[data-name=photo-cell]')).toBe(200);
    expect(count('[data-name=photo-cell] img[loading=lazy]')).toBe(200);
  });
});

describe('marks', () => {
  const about = 'a'.repeat(64);
  const onRecord: PhotoView['marks'] = [
    { shape: 'text', tone: 'cold', x: 100, y: 100, to_x: 100, to_y: 100, text: 'chafed' },
  ];

  async function screen(marks = onRecord): Promise<void> {
    answers.photo_view = () => photo('a', { marks });
    show(Marks, { view: job(), about });
    await settled();
  }

  it('begins with what is on record, adds, moves by key, undoes, and seals all of them', async () => {
    await screen();
    expect(count('[data-name=marks-list] li')).toBe(1);
    expect(one<HTMLButtonElement>('[data-name=keep-marks]').disabled).toBe(true);
    await press('marks-add');
    const added = one('[data-name=mark-1]');
    const before = JSON.parse(drafts.get(`j1 marks ${about}`) ?? '{}') as { marks: { x: number }[] };
    added.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', bubbles: true, cancelable: true }));
    await settled();
    await press('marks-undo');
    one('[data-name=mark-1]').dispatchEvent(
      new KeyboardEvent('keydown', { key: 'ArrowLeft', shiftKey: true, bubbles: true, cancelable: true }),
    );
    await settled();
    answers.photo_mark = () => job();
    await press('keep-marks');
    const sent = callsOf('photo_mark')[0] as {
      entry: { photo: string; marks: { x: number; text: string }[] };
    };
    expect(sent.entry.photo).toBe(about);
    expect(sent.entry.marks.map((mark) => mark.text)).toEqual(['chafed', '']);
    expect(sent.entry.marks[1]?.x).toBe((before.marks[1]?.x ?? 0) - 50);
    expect(textOf('[data-name=marked]')).toContain('saved');
  });

  it('takes one off', async () => {
    await screen();
    await press('mark-0');
    await press('marks-remove');
    answers.photo_mark = () => job();
    await press('keep-marks');
    expect(callsOf('photo_mark')).toMatchObject([{ entry: { photo: about, marks: [] } }]);
  });

  it('what was typed is a text, whatever it looks like', async () => {
    await screen();
    await press('mark-0');
    await type('mark-text', '<img src=x onerror="alert(1)">');
    expect(textOf('[data-name=marks] text')).toBe('<img src=x onerror="alert(1)">');
    expect(count('[data-name=marks] img')).toBe(0);
  });

  it('a refusal stands at the button and loses nothing', async () => {
    await screen();
    await press('marks-add');
    answers.photo_mark = refusal('too_many_marks');
    await press('keep-marks');
    expect(textOf('[data-name=refused]')).toContain('40 at most');
    expect(count('[data-name=marks-list] li')).toBe(2);
  });
});
