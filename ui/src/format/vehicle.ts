import type { JobView } from '../bindings/JobView';
import { say } from '../words';

/** Year, make and model as far as they are written down. */
export function vehicleName(view: JobView): string {
  const { year, make, model } = view.intake;
  return [year, make, model].filter((word) => word !== '').join(' ') || say('vehicle_unknown');
}
