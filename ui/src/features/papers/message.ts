import type { CheckpointView } from '../../bindings/CheckpointView';
import { sayIn } from '../../words';

/** What the customer's message is made of. */
export type Told = {
  language: string;
  shop: string;
  number: number;
  /** The approved amount as it is shown, with its sign. */
  amount: string;
  checkpoint: CheckpointView;
  /** The key's fingerprint in words. */
  key: string;
};

/** The text a customer gets: enough to prove later that the records were not rewritten. */
export function customerMessage(told: Told): string {
  const { language, shop, number, amount, checkpoint, key } = told;
  const lines = [
    sayIn(language, 'message_hello', { shop, number }) +
      (amount === '' ? '' : ` ${sayIn(language, 'message_approved', { amount })}`),
    sayIn(language, 'message_records', { count: checkpoint.size }),
    checkpoint.words,
    sayIn(language, 'message_key'),
    key,
    sayIn(language, 'message_keep'),
  ];
  return lines.join('\n');
}
