/** Where the technician is: the address after the hash, split at its slashes. */
class Place {
  parts = $state<string[]>(read());

  constructor() {
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

/** Goes to a screen. */
export function go(...parts: string[]): void {
  location.hash = address(...parts);
}
