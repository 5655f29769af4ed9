import type { JobView } from './bindings/JobView';
import type { PinView } from './bindings/PinView';

/** True once the technician noted the pin: until then its number and color are the library's example. */
export function isNoted(view: JobView, connector: string, pin: PinView): boolean {
  return view.timeline.some(
    ({ kind, values }) => kind === 'pin_noted' && values.connector === connector && values.pin === pin.number,
  );
}
