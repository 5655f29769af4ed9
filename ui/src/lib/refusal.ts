import { amount } from './format';

const amounts = new Set(['over', 'approved', 'allowed', 'asked']);

/** Values of a refusal as the sentence shows them: amounts come in cents and are read with their sign. */
export function shownValues(values: Partial<Record<string, string>>): Record<string, string> {
  const shown = Object.entries(values).map(([name, value = '']) => [name, shownValue(name, value)]);
  return Object.fromEntries(shown) as Record<string, string>;
}

function shownValue(name: string, value: string): string {
  return amounts.has(name) && /^-?\d+$/.test(value) ? amount(value) : value;
}
