import { amount, dayOf, sealed } from './format';
import { sayCode } from '../words';

const amounts = new Set(['over', 'approved', 'allowed', 'asked', 'most', 'total']);

const fields = new Set(['what', 'field']);

/**
 * Values of a refusal as the sentence shows them: amounts come in cents and are read with their sign; a field comes as
 * its code and is read by its name, its code stays beside it as `code`, for sentences about that field alone.
 */
export function shownValues(values: Partial<Record<string, string>>): Record<string, string> {
  const shown = Object.entries(values).map(([name, value = '']) => [name, shownValue(name, value)]);
  const code = values.what ?? values.field ?? '';
  return { ...(Object.fromEntries(shown) as Record<string, string>), code };
}

function shownValue(name: string, value: string): string {
  if (name === 'moment') return sealed(value);
  if (name === 'until') return dayOf(value);
  if (fields.has(name)) return sayCode('field', value);
  return amounts.has(name) && /^-?\d+$/.test(value) ? amount(value) : value;
}
