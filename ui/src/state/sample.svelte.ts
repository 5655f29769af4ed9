import { sampleEnter, sampleLeave, sampleView } from '../backend/sample';

/** The sample shop: every screen works in it as in the own one. */
class Sample {
  /** It is what the screens show. */
  shown = $state(false);

  /** Asks Rust. */
  async load(): Promise<void> {
    this.shown = await sampleView();
  }

  /** Goes into it, to its job. */
  async enter(): Promise<void> {
    begin(`#/job/${encodeURIComponent(await sampleEnter())}`);
  }

  /** Goes back into the own shop. */
  async leave(): Promise<void> {
    await sampleLeave();
    begin('#/');
  }
}

/** Another shop is another app: nothing that the screens know of the one may show in the other. */
function begin(address: string): void {
  location.hash = address;
  location.reload();
}

/** The one sample object of the app. */
export const sample = new Sample();
