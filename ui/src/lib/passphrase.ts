import { say } from './words';

/** Shortest passphrase the core takes, in characters (`api`, `passphrase_too_short`). */
const SHORTEST = 12;

/** Why a new passphrase, typed twice, doesn't do yet; nothing when it does. */
export function passphraseReason(first: string, again: string): string | null {
  const count = [...first].length;
  if (count < SHORTEST) return say('passphrase_short', { count });
  return first === again ? null : say('passphrase_differs');
}
