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
