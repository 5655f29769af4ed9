import { say } from '../words';

/** Why a new passphrase, typed twice, doesn't do yet; nothing when it does. How long it must be the core says. */
export function passphraseReason(first: string, again: string, least: number): string | null {
  const count = [...first].length;
  if (count < least) return say('passphrase_short', { count, least });
  return first === again ? null : say('passphrase_differs');
}
