import type { PhotoShare } from '../../bindings/PhotoShare';
import type { Recipient } from '../../bindings/Recipient';
import type { PacketEntry } from '../../bindings/PacketEntry';
import type { SharingView } from '../../bindings/SharingView';
import type { ValueShareView } from '../../bindings/ValueShareView';
import { say, sayCode } from '../../words';

/** The usual choice for a recipient: nothing decided otherwise. */
export function preset(language: string, recipient: Recipient): PacketEntry {
  return { language, recipient, supplier: '', values: [], photos: [] };
}

/** The same packet with one value decided otherwise than before. */
export function withValue(entry: PacketEntry, digest: string, goesOut: boolean): PacketEntry {
  const others = entry.values.filter((choice) => choice.digest !== digest);
  return { ...entry, values: [...others, { digest, goes_out: goesOut }] };
}

/** The same packet with one photo decided otherwise than before. */
export function withPhoto(entry: PacketEntry, photo: string, share: PhotoShare): PacketEntry {
  const others = entry.photos.filter((choice) => choice.photo !== photo);
  return { ...entry, photos: [...others, { photo, share }] };
}

/** A packet with every line decided as the preview showed it: what is written is what was read. */
export function asShown(entry: PacketEntry, shown: SharingView): PacketEntry {
  return {
    ...entry,
    values: shown.values.map(({ digest, goes_out }) => ({ digest, goes_out })),
    photos: shown.photos.map(({ photo, share }) => ({ photo: photo.sha256, share })),
  };
}

/** What a value is, and what stands in it. */
export function valueLine(value: ValueShareView): string {
  const text = value.field === 'signature' ? say('sharing_signature') : value.text;
  return `${fieldWords(value.kind, value.field)}: ${text}`;
}

/** Name of a field of a kind of record; the field itself for one that has no words. */
export function fieldWords(kind: string, field: string): string {
  const code = `${kind}_${field}`;
  const words = sayCode('value', code);
  return words === code ? field : words;
}
