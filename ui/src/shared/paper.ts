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

/** What an offer is about. */
type About = {
  name: string;
  label: string;
  /** As it is shown, where that isn't what fills the fields. */
  value?: string;
  sure?: boolean;
  /** What the form put into the field by itself: nobody typed it. */
  preset?: string;
};

/** An offer for some fields of a form: only for those that are empty, because what is typed stays. */
export function offer<T extends object>(form: EntryForm<T>, about: About, fills: Partial<T>): Offer | null {
  const { name, label, preset = '', sure = true } = about;
  const free = Object.entries(fills).filter(([field, text]) => {
    const now = form.value[field as keyof T];
    return text !== '' && now !== text && (now === '' || now === preset);
  });
  if (free.length === 0) return null;
  const value = about.value ?? free.map(([, text]) => String(text)).join(', ');
  const take = (): void => form.change(Object.fromEntries(free) as Partial<T>);
  return { name, label, value, sure, take };
}
