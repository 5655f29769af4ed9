import { settings } from '../state/settings.svelte';

const patterns = { kept: [30], failed: [90, 60, 90] };

/** A short buzz for "kept", two long ones for "failed", where the phone can and the technician wants it. */
export function buzz(kind: keyof typeof patterns): void {
  if (settings.vibration && 'vibrate' in navigator) navigator.vibrate(patterns[kind]);
}
