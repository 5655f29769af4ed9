import type { CameraIntent } from '../bindings/CameraIntent';
import type { PhotoEntry } from '../bindings/PhotoEntry';
import type { PhotoPurpose } from '../bindings/PhotoPurpose';
import type { PhotoView } from '../bindings/PhotoView';
import { call, send } from './shell';

/** Keeps the half-typed state of a form. */
export const draftKeep = (job: string, form: string, text: string) =>
  call<null>('draft_keep', { job, form, text });
/** The half-typed state of a form, empty when there is none. */
export const draftView = (job: string, form: string) => call<string>('draft_view', { job, form });
/** Writes down what the camera is opened for, before it opens. */
export const cameraIntentKeep = (job: string, purpose: PhotoPurpose, form: string) =>
  call<null>('camera_intent_keep', { job, purpose, form });
/** What the camera was opened for, if the app was ended meanwhile; asked once. */
export const cameraIntentTake = () => call<CameraIntent | null>('camera_intent_take');
/** Keeps a photo's bytes as they came. */
export const photoKeep = (bytes: Uint8Array, entry: PhotoEntry) =>
  send<PhotoView>('photo_keep', bytes, entry);
