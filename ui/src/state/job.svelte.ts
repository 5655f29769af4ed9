import { jobView } from '../backend/job';
import type { JobView } from '../bindings/JobView';

/** The job on the screen. Every command answers with the whole job anew; the screens only show it. */
class OpenJob {
  view = $state<JobView | null>(null);

  /** Loads a job unless it is the one on the screen already. */
  async load(job: string): Promise<void> {
    if (this.view?.job !== job) this.view = null;
    this.view = await jobView(job);
  }

  /** Called when a command signed a new checkpoint: it may wait for a time from outside. */
  onsigned: () => void = () => {};

  /** Takes the answer of a command. */
  take(view: JobView): JobView {
    const signed = view.checkpoint?.text !== this.view?.checkpoint?.text;
    this.view = view;
    if (signed && view.checkpoint) this.onsigned();
    return view;
  }
}

/** The one job object of the app. */
export const open = new OpenJob();
