import type { Channel } from '../bindings/Channel';
import type { OldParts } from '../bindings/OldParts';
import type { PartEntry } from '../bindings/PartEntry';
import type { PhotoPurpose } from '../bindings/PhotoPurpose';
import type { ProgrammingOutcome } from '../bindings/ProgrammingOutcome';
import type { Recipient } from '../bindings/Recipient';

/** How an approval came. */
export const channels: Channel[] = ['in_person', 'phone', 'text_message', 'e_mail'];
/** What becomes of the old parts. */
export const oldParts: OldParts[] = ['return', 'keep_by_shop', 'exchange'];
/** Conditions of a part. */
export const conditions: PartEntry['condition'][] = ['new', 'used', 'rebuilt'];
/** What comes of programming. */
export const outcomes: ProgrammingOutcome[] = ['succeeded', 'failed', 'module_lost'];
/** Who a report or a packet goes to. */
export const recipients: Recipient[] = ['customer', 'arbiter', 'card_issuer', 'supplier'];
/** What a photo shows. */
export const purposes: PhotoPurpose[] = [
  'arrival',
  'identity',
  'pin_out',
  'reading',
  'part',
  'programming',
  'repair',
];
