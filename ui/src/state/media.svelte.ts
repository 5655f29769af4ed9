/** A phone that lies, a tablet, a desk: what is read on one side, what is done on the other (Screen.svelte's style says the same). */
export const TWO_COLUMNS = '(orientation: landscape) and (max-height: 500px), (min-width: 900px)';

/** Whether a media query holds, as long as the component that made this is on the page. */
export class Media {
  now = $state(false);

  constructor(query: string) {
    const list = matchMedia(query);
    this.now = list.matches;
    $effect(() => {
      const turned = (): boolean => (this.now = list.matches);
      list.addEventListener('change', turned);
      return () => list.removeEventListener('change', turned);
    });
  }
}
