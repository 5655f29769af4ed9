/** Width and height in CSS pixels. */
export type Size = { width: number; height: number };
export type Spot = { x: number; y: number };
/** How large a picture is shown (1 fills the frame) and where its upper left corner lies in the frame. */
export type Zoom = { scale: number; x: number; y: number };

/** The largest size of a picture that fits a frame whole; nothing before either is known. */
export function fitted(picture: Size, frame: Size): Size {
  if (picture.width <= 0 || picture.height <= 0) return { width: 0, height: 0 };
  const share = Math.min(frame.width / picture.width, frame.height / picture.height);
  return { width: picture.width * share, height: picture.height * share };
}

/** The most a picture is enlarged: two CSS pixels for each of its own, and four times the frame at least. */
export function most(picture: Size, base: Size): number {
  return base.width > 0 ? Math.max(4, (2 * picture.width) / base.width) : 1;
}

/** The same zoom, so that no edge of the picture stands inside the frame while it is larger, and in the middle while it is smaller. */
export function held({ scale, x, y }: Zoom, base: Size, frame: Size): Zoom {
  const along = (start: number, length: number, room: number): number =>
    length <= room ? (room - length) / 2 : Math.min(0, Math.max(room - length, start));
  return {
    scale,
    x: along(x, base.width * scale, frame.width),
    y: along(y, base.height * scale, frame.height),
  };
}

/** Enlarges by a factor; what is under `at` stays there, as far as the edges let it. */
export function zoomed(
  { scale, x, y }: Zoom,
  factor: number,
  at: Spot,
  base: Size,
  frame: Size,
  limit: number,
): Zoom {
  const next = Math.min(limit, Math.max(1, scale * factor));
  const share = next / scale;
  return held({ scale: next, x: at.x - (at.x - x) * share, y: at.y - (at.y - y) * share }, base, frame);
}

/** Moves the picture in its frame. */
export function moved({ scale, x, y }: Zoom, by: Spot, base: Size, frame: Size): Zoom {
  return held({ scale, x: x + by.x, y: y + by.y }, base, frame);
}

/** What two fingers do: where their middle is and how far apart they are. */
export function pinch([one, other]: [Spot, Spot]): { at: Spot; apart: number } {
  return {
    at: { x: (one.x + other.x) / 2, y: (one.y + other.y) / 2 },
    apart: Math.max(1, Math.hypot(one.x - other.x, one.y - other.y)),
  };
}
