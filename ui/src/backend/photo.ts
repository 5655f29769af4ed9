import type { Form } from '../bindings/Form';
import type { FoundPhotoEntry } from '../bindings/FoundPhotoEntry';
import type { FoundPhotoView } from '../bindings/FoundPhotoView';
import type { JobView } from '../bindings/JobView';
import type { LabelEntry } from '../bindings/LabelEntry';
import type { LabelView } from '../bindings/LabelView';
import { call, send } from './shell';

/** Photos that were taken and are on no job. */
export const foundPhotos = () => call<FoundPhotoView[]>('found_photos');
/** Puts one of them on a job. */
export const foundPhotoAttach = (form: Form, entry: FoundPhotoEntry) =>
  call<JobView>('found_photo_attach', { form, entry });
/** Throws one of them away for good. */
export const foundPhotoDestroy = (sha256: string) =>
  call<FoundPhotoView[]>('found_photo_destroy', { sha256 });
/** What the label in a picture says; null where none can be read. Nothing is kept. */
export const labelRead = (bytes: Uint8Array, entry: LabelEntry) =>
  send<LabelView | null>('label_read', bytes, entry);
