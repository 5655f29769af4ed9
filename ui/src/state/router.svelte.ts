/** Where the technician is: the address after the hash, split at its slashes. */
class Place {
  parts = $state<string[]>(read());
  /** While somebody else holds the phone: the address that nothing but `unlock` leaves, neither Back nor a link. */
  #locked: string | null = null;

  constructor() {
    // Each screen says itself where it was left.
    history.scrollRestoration = 'manual';
    addEventListener('hashchange', () => {
      if (this.#locked !== null && location.hash !== this.#locked) {
        // Pushed, not replaced: the next Back has something to go back to as well.
        location.hash = this.#locked;
        return;
      }
      this.parts = read();
      scrollTo(0, 0);
    });
  }

  /** Stays where it is until it is unlocked. */
  lock(): void {
    this.#locked = location.hash;
  }

  unlock(): void {
    this.#locked = null;
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
