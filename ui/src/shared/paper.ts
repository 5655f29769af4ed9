import type { PaperView } from '../bindings/PaperView';
import type { EntryForm } from '../state/form.svelte';

/** Something a paper says, a tap away from the fields it would fill. */
export type Offer = {
  /** Name of the button. */
  name: string;
  label: string;
  /** As it is shown. */
  value: string;
  /** False where it has to be held against the paper. */
  sure: boolean;
  take: () => void;
};

/** What the paper fills of a form. */
export type Offers = (paper: PaperView) => (Offer | null)[];

/** An offer for some fields of a form: only for those that are empty, because what is typed stays. */
export function offer<T extends object>(
  form: EntryForm<T>,
  about: { name: string; label: string; value?: string; sure?: boolean },
  fills: Partial<T>,
): Offer | null {
  const empty = Object.entries(fills).filter(
    ([field, text]) => text !== '' && form.value[field as keyof T] === '',
  );
  if (empty.length === 0) return null;
  const value = about.value ?? empty.map(([, text]) => String(text)).join(', ');
  const take = (): void => form.change(Object.fromEntries(empty) as Partial<T>);
  return { name: about.name, label: about.label, value, sure: about.sure ?? true, take };
}
