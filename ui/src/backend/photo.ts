import type { Form } from '../bindings/Form';
import type { FoundPhotoEntry } from '../bindings/FoundPhotoEntry';
import type { FoundPhotoView } from '../bindings/FoundPhotoView';
import type { JobView } from '../bindings/JobView';
import { call } from './shell';

/** Photos that were taken and are on no job. */
export const foundPhotos = () => call<FoundPhotoView[]>('found_photos');
/** Puts one of them on a job. */
export const foundPhotoAttach = (form: Form, entry: FoundPhotoEntry) =>
  call<JobView>('found_photo_attach', { form, entry });
/** Throws one of them away for good. */
export const foundPhotoDestroy = (sha256: string) =>
  call<FoundPhotoView[]>('found_photo_destroy', { sha256 });
