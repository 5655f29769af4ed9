import { pinch, type Size, type Spot } from './zoom';

type What = {
  frame: () => Size;
  zoomed: (factor: number, at: Spot) => void;
  moved: (by: Spot) => void;
  tappedTwice: (at: Spot) => void;
  swiped: (by: number) => void;
  finger: (what: 'down' | 'move' | 'up' | 'cancel', at: Spot) => void;
  /** One finger draws. */
  draws: () => boolean;
};

/** Two taps are one gesture when they are this near in time (ms) and place (px). */
const TWICE_MS = 320;
const NEAR = 32;
/** A swipe to another photo goes this far, px. */
const SWIPE = 56;

type Touch = PointerEvent & { currentTarget: Element };

/** Fingers on a picture, told apart: one moves or draws, two pinch, two quick taps enlarge, a swipe turns over. */
export class Gestures {
  readonly #what: What;
  readonly #fingers = new Map<number, Spot>();
  #began: Spot = { x: 0, y: 0 };
  #drawing = false;
  #pinched = false;
  #tapped = { at: { x: 0, y: 0 }, when: -TWICE_MS };

  constructor(what: What) {
    this.#what = what;
  }

  down = (event: Touch): void => {
    if (event.pointerType === 'mouse' && event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    const at = spot(event);
    this.#fingers.set(event.pointerId, at);
    if (this.#fingers.size === 1) {
      this.#began = at;
      this.#pinched = false;
      this.#drawing = this.#what.draws();
      if (this.#drawing) this.#what.finger('down', at);
    } else {
      // A second finger: what the first one began to draw was no drawing.
      this.#pinched = true;
      if (this.#drawing) this.#what.finger('cancel', at);
      this.#drawing = false;
    }
  };

  move = (event: Touch): void => {
    const last = this.#fingers.get(event.pointerId);
    if (!last) return;
    const at = spot(event);
    if (this.#fingers.size === 1) {
      if (this.#drawing) this.#what.finger('move', at);
      else this.#what.moved({ x: at.x - last.x, y: at.y - last.y });
      this.#fingers.set(event.pointerId, at);
      return;
    }
    const before = this.#two();
    this.#fingers.set(event.pointerId, at);
    const after = this.#two();
    if (!before || !after) return;
    this.#what.moved({ x: after.at.x - before.at.x, y: after.at.y - before.at.y });
    this.#what.zoomed(after.apart / before.apart, after.at);
  };

  up = (event: Touch): void => {
    if (!this.#fingers.delete(event.pointerId)) return;
    const at = spot(event);
    if (this.#drawing) {
      this.#drawing = false;
      this.#what.finger('up', at);
    } else if (!this.#pinched && this.#fingers.size === 0) {
      this.#ended(at, event.timeStamp);
    }
  };

  cancel = (event: Touch): void => {
    if (!this.#fingers.delete(event.pointerId)) return;
    if (this.#drawing) this.#what.finger('cancel', spot(event));
    this.#drawing = false;
  };

  #ended(at: Spot, when: number): void {
    const across = at.x - this.#began.x;
    const along = at.y - this.#began.y;
    if (Math.hypot(across, along) > 12) {
      if (Math.abs(across) > SWIPE && Math.abs(across) > 2 * Math.abs(along))
        this.#what.swiped(across < 0 ? 1 : -1);
      return;
    }
    const { at: first, when: earlier } = this.#tapped;
    if (when - earlier < TWICE_MS && Math.hypot(at.x - first.x, at.y - first.y) < NEAR) {
      this.#tapped = { at, when: -TWICE_MS };
      this.#what.tappedTwice(at);
    } else {
      this.#tapped = { at, when };
    }
  }

  #two(): ReturnType<typeof pinch> | null {
    const [one, other] = this.#fingers.values();
    return one && other ? pinch([one, other]) : null;
  }
}

function spot(event: Touch): Spot {
  const box = event.currentTarget.getBoundingClientRect();
  return { x: event.clientX - box.left, y: event.clientY - box.top };
}
