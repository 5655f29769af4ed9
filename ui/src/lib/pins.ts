import type { JobView } from './bindings/JobView';
import type { PinView } from './bindings/PinView';

/** True once the technician noted what he found at the pin. */
export function isNoted(view: JobView, connector: string, pin: PinView): boolean {
  return view.timeline.some(
    ({ kind, values }) => kind === 'pin_noted' && values.connector === connector && values.pin === pin.number,
  );
}

/** Number and color come from the library: another vehicle's may differ. A circuit of the shop's own names its own. */
export function isExample(view: JobView, connector: string, pin: PinView): boolean {
  const own = /^own-[0-9a-f]{12}$/.test(view.circuit?.id ?? '');
  return !own && !isNoted(view, connector, pin);
}
