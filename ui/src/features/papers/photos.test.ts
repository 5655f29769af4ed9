import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import GoesOut from './GoesOut.svelte';
import FoundPhotos from '../../shared/FoundPhotos.svelte';
import PhotoPicture from '../../shared/PhotoPicture.svelte';
import type { FoundPhotoView } from '../../bindings/FoundPhotoView';
import type { PhotoShareView } from '../../bindings/PhotoShareView';
import type { SharingView } from '../../bindings/SharingView';
import { answers, callsOf, forget } from '../../testing/fakeShell';
import { job } from '../../testing/samples';
import { clear, count, one, pick, press, settled, show, textOf } from '../../testing/screen';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

beforeEach(forget);
afterEach(clear);

const hash = 'ab'.repeat(32);

function photo(part: Partial<PhotoShareView> = {}): PhotoShareView {
  return {
    photo: {
      sha256: hash,
      bytes: '4096',
      media_type: 'image/jpeg',
      purpose: 'part',
      taken: '',
      kept: '2026-10-12T08:00:00-05:00',
      width: 96,
      height: 64,
      has_preview: true,
      live: false,
      doubts: [],
      marks: [],
    },
    covered: '',
    share: 'stripped',
    original: 'here',
    missing_since: '',
    carries: ['location', 'serial'],
    can_strip: true,
    marks: 0,
    ...part,
  };
}

function goesOut(photos: PhotoShareView[], picked: string[] = []): void {
  const sharing: SharingView = {
    forms: ['statement', 'full'],
    suppliers: [],
    recipient: 'supplier',
    values: [],
    photos,
    records: [
      {
        record: 'r1',
        kind: 'part_received',
        kept: '2026-10-12T08:00:00-05:00',
        values: [
          { name: 'supplier', text: 'Fennrow Parts' },
          { name: 'price', text: '1840' },
        ],
        around: [{ name: 'device', text: 'device-1' }],
      },
    ],
    reports: [],
    reports_withheld: 0,
  };
  show(GoesOut, {
    view: job(),
    sharing,
    changed: false,
    onvalue: () => {},
    onphoto: (_: string, share: string) => picked.push(share),
    onpreset: () => {},
  });
}

const choices = (): (string | undefined)[] =>
  [...document.querySelectorAll<HTMLElement>('[data-name=photo-share] [data-value]')].map(
    (option) => option.dataset.value,
  );

describe('what goes out of a photo', () => {
  it('says what the file carries, and offers the original anyhow', async () => {
    const picked: string[] = [];
    goesOut([photo()], picked);
    expect(textOf('[data-name=carries]')).toBe('In the file besides the picture: location, serial number.');
    expect(textOf('[data-name=goes-out-counts]')).toContain('0 as they are, 1 as clean copies');
    expect(count('[data-name=carries-goes-out]')).toBe(0);
    expect(choices()).toEqual(['original', 'stripped', 'withheld']);
    await pick(`share-${hash.slice(0, 12)}`, 'original');
    expect(picked).toEqual(['original']);
  });

  it('warns where all of that goes out with it', () => {
    goesOut([photo({ share: 'original' })]);
    expect(textOf('[data-name=carries-goes-out]')).toBe('All of that goes out with it.');
  });

  it('offers no clean copy of what carries nothing or cannot be cleaned', async () => {
    goesOut([photo({ share: 'original', carries: [] })]);
    expect(textOf('[data-name=carries]')).toBe('The file has nothing in it besides the picture.');
    expect(choices()).toEqual(['original', 'withheld']);
    await clear();
    goesOut([photo({ share: 'withheld', can_strip: false })]);
    expect(choices()).toEqual(['original', 'withheld']);
    expect(textOf('[data-name=photo-share]')).toContain('it goes out whole or it stays');
  });

  it('says that an original is lost, since when, and that the packet says so', () => {
    goesOut([
      photo({
        share: 'withheld',
        original: 'missing',
        missing_since: '2026-10-13T09:00:00-05:00',
        carries: [],
        can_strip: false,
      }),
    ]);
    expect(textOf('[data-name=original-lost]')).toBe('The original is missing from this device.');
    expect(textOf('[data-name=photo-share]')).toContain('On record as missing since Oct 13, 2026');
    expect(textOf('[data-name=photo-share]')).toContain('the shop no longer has it');
    expect(count('[data-name=photo-share] img')).toBe(0);
    expect(choices()).toEqual([]);
  });

  it('a damaged original still lets its masked copy go out', () => {
    goesOut([
      photo({
        share: 'covered',
        covered: 'cd'.repeat(32),
        original: 'damaged',
        carries: [],
        can_strip: false,
      }),
    ]);
    expect(textOf('[data-name=original-lost]')).toContain('is damaged');
    expect(choices()).toEqual(['covered', 'withheld']);
  });
});

it('shows the records value by value, whole', () => {
  goesOut([]);
  expect(textOf('[data-name=public-records] h2')).toBe('In the records, for every recipient: 2');
  const values = [...document.querySelectorAll('[data-name=public-value]')].map((value) => value.textContent);
  expect(values).toEqual(['Fennrow Parts', '1840', 'device-1']);
});

it('a picture that cannot be shown says so', async () => {
  show(PhotoPicture, { sha256: hash, alt: 'A relay' });
  one('img').dispatchEvent(new Event('error'));
  await settled();
  expect(count('img')).toBe(0);
  expect(textOf('[data-name=photo-lost]')).toContain('isn’t here or is damaged');
});

describe('a photo on no job', () => {
  const found: FoundPhotoView = {
    sha256: hash,
    bytes: '4096',
    media_type: 'image/jpeg',
    taken: '2026-10-12T07:59:00',
    width: 96,
    height: 64,
    has_preview: true,
  };

  it('is put on the job that is open', async () => {
    let left = [found];
    answers.found_photos = () => left;
    answers.found_photo_attach = () => {
      left = [];
      return job();
    };
    show(FoundPhotos, { job: 'j1' });
    await settled();
    expect(textOf('[data-name=found-photo]')).toContain('Oct 12, 2026, 7:59 AM');
    expect(textOf('[data-name=found-photo]')).toContain('96 × 64');
    const select = one<HTMLSelectElement>('select');
    select.value = 'repair';
    select.dispatchEvent(new Event('change', { bubbles: true }));
    await press('found-attach');
    expect(callsOf('found_photo_attach')).toEqual([
      { form: { job: 'j1', draft: '', records: null }, entry: { sha256: hash, purpose: 'repair' } },
    ]);
    expect(count('[data-name=found-photo]')).toBe(0);
  });

  it('is thrown away only after it was asked, and can be kept', async () => {
    answers.found_photos = () => [found];
    answers.found_photo_destroy = () => [];
    show(FoundPhotos, {});
    await settled();
    expect(count('[data-name=found-attach]')).toBe(0);
    await press('found-destroy');
    expect(callsOf('found_photo_destroy')).toEqual([]);
    await press('found-no');
    await press('found-destroy');
    await press('found-yes');
    expect(callsOf('found_photo_destroy')).toEqual([{ sha256: hash }]);
    expect(count('[data-name=found-photo]')).toBe(0);
  });
});
