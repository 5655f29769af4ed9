import { jobView } from '../backend/job';
import { authoritiesView, timestampsFetch } from '../backend/time';
import { open } from './job.svelte';

let asking = false;

/**
 * Asks the chosen authorities for the times that are due, without a word: nobody waits for it, and what fails stands
 * in the list under Settings. Nobody is asked when none was chosen or the system says there is no network.
 */
export async function askQuietly(): Promise<void> {
  if (asking || !navigator.onLine) return;
  asking = true;
  try {
    const before = await authoritiesView();
    if (before.authorities.length === 0 || before.waiting.length === 0) return;
    await timestampsFetch(false);
    await showWhatCame();
  } catch {
    // The list of what waits names the failure and the next try.
  } finally {
    asking = false;
  }
}

/** A time that came is a record of the job on the screen. An older answer never overtakes a newer one. */
async function showWhatCame(): Promise<void> {
  const job = open.view?.job;
  if (!job) return;
  const fresh = await jobView(job);
  if (open.view?.job === job && fresh.records > open.view.records) open.view = fresh;
}
