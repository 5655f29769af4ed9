import type { Channel } from '../bindings/Channel';
import type { OldParts } from '../bindings/OldParts';
import type { PartEntry } from '../bindings/PartEntry';
import type { PhotoPurpose } from '../bindings/PhotoPurpose';
import type { PaymentEntry } from '../bindings/PaymentEntry';
import type { PaymentWay } from '../bindings/PaymentWay';
import type { ProgrammingOutcome } from '../bindings/ProgrammingOutcome';
import type { Recipient } from '../bindings/Recipient';
import type { SupplierStep } from '../bindings/SupplierStep';
import type { SupplierStepEntry } from '../bindings/SupplierStepEntry';

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
  'message',
  'supplier_paper',
];
/** Which way money goes between shop and customer. */
export const ways: PaymentWay[] = ['received', 'refunded'];
/** How money changes hands. */
export const means: PaymentEntry['means'][] = ['card', 'cash', 'check', 'transfer'];
/** What happens with a supplier. */
export const supplierSteps: SupplierStep[] = ['quoted', 'agreed', 'billed', 'paid', 'returned', 'credited'];
/** What a supplier is paid for. */
export const costKinds: SupplierStepEntry['what'][] = [
  'part',
  'core',
  'labour',
  'sublet',
  'programming',
  'other',
];
