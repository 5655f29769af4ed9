import { intakeKeep } from '../../backend/job';
import type { IntakeEntry } from '../../bindings/IntakeEntry';
import type { JobView } from '../../bindings/JobView';
import { typedAmount } from '../../format/format';
import { type EntryForm, undrafted } from '../../state/form.svelte';
import { open } from '../../state/job.svelte';

/** A field of the intake that is typed. */
export type IntakeName = Exclude<
  keyof IntakeEntry,
  'odometer_unit' | 'fault_codes' | 'warranty' | 'language'
>;

/** What is on record of a field, as it would be typed. */
export function onRecord(view: JobView | null, field: IntakeName): string {
  const kept = view?.intake[field] ?? '';
  return field === 'approver_limit' && kept !== '' ? typedAmount(kept) : kept;
}

/**
 * Keeps one field of the intake as a record, unless it says what is on record already. The draft goes with it; what is
 * still being typed in other fields stays a draft. Throws the refusal; the draft then stays as it is.
 */
export async function keepField(
  form: EntryForm<IntakeEntry>,
  field: IntakeName,
  value: string,
): Promise<void> {
  await form.flush();
  if (value !== onRecord(open.view, field)) {
    const settles = isAlone(form.value, field) ? form.settles : undrafted(form.job);
    open.take(await intakeKeep(settles, { [field]: value }));
  }
  // Typed on meanwhile: that is the draft now.
  if (form.value[field] === value) form.value[field] = undefined;
  await form.save();
}

function isAlone(entry: IntakeEntry, field: IntakeName): boolean {
  return Object.entries(entry).every(([name, value]) => name === field || value === undefined);
}
