/** Where the technician is: the address after the hash, split at its slashes. */
class Place {
  parts = $state<string[]>(read());

  constructor() {
    // Each screen says itself where it was left.
    history.scrollRestoration = 'manual';
    addEventListener('hashchange', () => {
      this.parts = read();
      scrollTo(0, 0);
    });
  }
}

function read(): string[] {
  return location.hash
    .replace(/^#\/?/, '')
    .split('/')
    .filter((part) => part !== '')
    .map(decodeURIComponent);
}

/** The one place object of the app. */
export const place = new Place();

/** Address of a screen, to be used in links. */
export function address(...parts: string[]): string {
  return '#/' + parts.map(encodeURIComponent).join('/');
}

/** Goes to a screen that takes the place of this one on the way back. */
export function goInstead(...parts: string[]): void {
  location.replace(address(...parts));
}

/** Goes to a screen. */
export function go(...parts: string[]): void {
  location.hash = address(...parts);
}
