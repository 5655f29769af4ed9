import type { BothLanguages } from '../bindings/BothLanguages';
import { settings } from '../state/settings.svelte';

/** The text in the language chosen; English when Spanish is missing. */
export function both(text: BothLanguages): string {
  return text[settings.language] || text.en;
}
