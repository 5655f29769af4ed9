import { appointed, sealed } from '../../format/format';

/** Day and time of an appointment: with its offset (RFC 3339) by the clock on the wall there, of an older record as written. */
export function appointment(due: string): string {
  return hasZone(due) ? sealed(due) : appointed(due);
}

/** Whether an appointment says its offset: only then is it one moment everywhere. */
export function hasZone(due: string): boolean {
  return /T\d{2}:\d{2}:\d{2}.*(Z|[+-]\d{2}:\d{2})$/.test(due);
}
