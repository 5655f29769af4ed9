import { tick } from 'svelte';
import type { PhotoView } from '../bindings/PhotoView';

/** What the viewer shows: a photo of a job, or two that belong together. */
export type Shown = {
  job: string;
  /** The photo, as far as the place that it was opened from knows it. */
  photo: PhotoView;
  /** Before and after, side by side where there is room. */
  pair?: [PhotoView, PhotoView];
};

/**
 * The photo that is looked at, above the screen it was opened from. It has a step of its own in the history, so that the phone's Back
 * closes it; the screen below stays as it was.
 */
class Viewer {
  shown = $state.raw<Shown | null>(null);
  #from: HTMLElement | null = null;

  constructor() {
    addEventListener('popstate', () => this.#gone());
    addEventListener('hashchange', () => this.#gone());
  }

  /** Opens a photo. */
  open(shown: Shown): void {
    if (!this.shown) {
      this.#from = document.activeElement instanceof HTMLElement ? document.activeElement : null;
      history.pushState({ viewer: true }, '');
    }
    this.shown = shown;
  }

  /** Closes it, as Back does. */
  close(): void {
    if (this.shown) history.back();
  }

  #gone(): void {
    if (!this.shown) return;
    this.shown = null;
    const from = this.#from;
    this.#from = null;
    void tick().then(() => from?.focus({ preventScroll: true }));
  }
}

/** The one viewer of the app. */
export const viewer = new Viewer();
