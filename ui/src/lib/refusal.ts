import { dollars } from './format';

const amounts = new Set(['over', 'approved', 'allowed', 'asked']);

/** Values of a refusal as the sentence shows them: amounts come in cents and are read in dollars. */
export function shownValues(values: Partial<Record<string, string>>): Record<string, string> {
  const shown = Object.entries(values).map(([name, value = '']) => [name, amount(name, value)]);
  return Object.fromEntries(shown) as Record<string, string>;
}

function amount(name: string, value: string): string {
  return amounts.has(name) && /^-?\d+$/.test(value) ? dollars(value) : value;
}
