import type { MeterEntry } from '../../bindings/MeterEntry';
import type { MeterView } from '../../bindings/MeterView';

/** A blank profile: nothing is assumed about a meter. */
export function emptyMeter(): MeterEntry {
  return {
    name: '',
    volts_input_megohms: '',
    low_impedance_kilohms: '',
    accuracy_percent: '',
    accuracy_counts: '',
  };
}

/** A profile of the shop as it is sent again: ohms go back to the units they are typed in. */
export function meterEntry(meter: MeterView): MeterEntry {
  return {
    name: meter.name,
    volts_input_megohms: movePoint(meter.volts_input_ohms, 6),
    low_impedance_kilohms: movePoint(meter.low_impedance_ohms, 3),
    accuracy_percent: meter.accuracy_percent,
    accuracy_counts: String(meter.accuracy_counts),
  };
}

/** Moves the decimal point of a decimal text to the left, without going through a binary number. */
export function movePoint(text: string, places: number): string {
  if (text === '') return '';
  const [whole = '', part = ''] = text.split('.');
  const digits = whole.padStart(places + 1, '0');
  const moved = `${digits.slice(0, -places)}.${digits.slice(-places)}${part}`;
  return moved.replace(/\.?0+$/, '').replace(/^0+(?=\d)/, '');
}
