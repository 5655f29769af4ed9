import type { PhotoView } from '../../bindings/PhotoView';
import { sealed } from '../../format/format';
import { say, sayCode } from '../../words';

/** What a photo is called where it can't be seen: what it shows and when it was kept. */
export function photoName(photo: PhotoView): string {
  return say('photo_of', { purpose: sayCode('purpose', photo.purpose), time: sealed(photo.kept) });
}
