import type { ApprovalEntry } from '../../bindings/ApprovalEntry';
import type { JobView } from '../../bindings/JobView';
import { entryForm, type EntryForm } from '../../state/form.svelte';

/** The answer to the latest version as it is being given: by the technician, or by the customer who holds the phone. */
export function answerForm(view: () => JobView, version: () => number): EntryForm<ApprovalEntry> {
  return entryForm<ApprovalEntry>({
    job: () => view().job,
    name: () => 'approval',
    records: () => view().records,
    fresh: () => ({
      version: version(),
      answers: [],
      limit: '',
      name: view().intake.customer || view().intake.approver_name,
      signer_confirmed: false,
      given_at: '',
      channel: 'in_person',
      words: '',
      conditions: '',
      number_called: view().intake.approver_phone || view().intake.phone,
      called_by: '',
      old_parts: 'return',
      signature: '',
      photos: [],
    }),
  });
}
