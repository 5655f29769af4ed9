import { flushSync, mount, unmount, type Component } from 'svelte';
import { vi } from 'vitest';

// What a web view has and jsdom lacks.
Element.prototype.scrollIntoView = vi.fn();
window.matchMedia = vi.fn(() => new EventTarget()) as unknown as typeof window.matchMedia;
window.scrollTo = vi.fn() as unknown as typeof window.scrollTo;

const shown: Record<string, unknown>[] = [];

/** Mounts a component on the page, alone. Props may be getters. */
export function show<P extends Record<string, unknown>>(
  component: Component<P>,
  props: P,
): Record<string, unknown> {
  const instance = mount(component, { target: document.body, props }) as Record<string, unknown>;
  shown.push(instance);
  flushSync();
  return instance;
}

/** Takes everything off the page. */
export async function clear(): Promise<void> {
  for (const instance of shown.splice(0)) await unmount(instance);
  document.body.replaceChildren();
}

/** Lets answers come and the page follow. */
export async function settled(): Promise<void> {
  for (let round = 0; round < 30; round += 1) {
    await Promise.resolve();
    flushSync();
  }
}

/** The one element that a selector finds. */
export function one<E extends HTMLElement = HTMLElement>(selector: string): E {
  const found = document.querySelectorAll<E>(selector);
  if (found.length !== 1 || !found[0]) throw new Error(`${found.length} elements are ${selector}`);
  return found[0];
}

/** How many elements a selector finds. */
export function count(selector: string): number {
  return document.querySelectorAll(selector).length;
}

export async function press(name: string): Promise<void> {
  one(`[data-name="${name}"]`).click();
  await settled();
}

/** A choice is a button, or a label around a radio button. */
export async function pick(name: string, value: string): Promise<void> {
  const choice = one(`[data-name="${name}"] [data-value="${value}"]`);
  (choice.querySelector('input') ?? choice).click();
  await settled();
}

/** Types a text as it is while the finger is still in the field. */
export async function type(name: string, value: string): Promise<void> {
  const field = one<HTMLInputElement>(`[name="${name}"]`);
  field.value = value;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  await settled();
}

export function textOf(selector: string): string {
  return one(selector).textContent?.replace(/\s+/g, ' ').trim() ?? '';
}

/** Stands in for the web view's eye on what is in view: the test says when a watched element is. */
export function watchedEnd(): { comesIntoView: () => void; watched: () => number } {
  const eyes = new Set<() => void>();
  class Eye {
    #seen: () => void;
    constructor(seen: (all: { isIntersecting: boolean }[]) => void) {
      this.#seen = () => seen([{ isIntersecting: true }]);
    }
    observe(): void {
      eyes.add(this.#seen);
    }
    disconnect(): void {
      eyes.delete(this.#seen);
    }
  }
  vi.stubGlobal('IntersectionObserver', Eye);
  return { comesIntoView: () => [...eyes].forEach((seen) => seen()), watched: () => eyes.size };
}
