import type { CircuitView } from '../../bindings/CircuitView';
import type { ReadingView } from '../../bindings/ReadingView';
import type { StateVariableView } from '../../bindings/StateVariableView';
import { shortNumber } from '../../format/format';
import { isYesNo, positionOf, recordedIn, unknown, type ReadingFields } from './reading';
import { say, sayCode } from '../../words';
import { both } from '../../words/both';

/** A value with its unit, as shown: "4.1 V", "OL", "yes". */
export function valueText(value: string, unit: string): string {
  if (value === '') return '';
  if (value === 'yes' || value === 'no') return say(value);
  if (unit === 'yes_no') return value;
  return `${value.replace('-', '−')} ${sayCode('unit', unit)}`;
}

type Numbers = Pick<ReadingView, 'value' | 'range' | 'lowest' | 'highest'> & { unit: string };

/** What a reading on record shows: its value (over-limit with the range it was read in), the lowest and highest of a recording. */
export function recordedText({ value, range, lowest, highest, unit }: Numbers): string {
  const shown = valueText(value, unit);
  return [
    value === 'OL' && range ? `${shown} (> ${valueText(range, unit)})` : shown,
    lowest ? say('value_lowest', { value: valueText(lowest, unit) }) : '',
    highest ? say('value_highest', { value: valueText(highest, unit) }) : '',
  ]
    .filter((text) => text !== '')
    .join(', ');
}

/** What a reading asks the hands to do besides holding the leads, line by line. */
export function asksText({ recorded, condition, mode }: Asked): string[] {
  const minMax = recorded && recorded !== 'value' && !isYesNo(mode);
  return [minMax ? sayCode('ask', recorded) : '', condition ? sayCode('ask', condition) : ''].filter(
    (line) => line !== '',
  );
}

type Asked = Pick<ReadingFields, 'recorded' | 'condition' | 'mode'>;

/** What a healthy circuit shows, with the reading's unit. */
export function expectedText(expected: number, unit: string): string {
  return `${shortNumber(expected)} ${sayCode('unit', unit)}`;
}

/** Name of a point of the circuit. */
export function pointName(circuit: CircuitView | null, id: string): string {
  const point = circuit?.points.find((one) => one.id === id);
  return point ? both(point.name) : id;
}

/** Where a lead was: a point, or a pin in doubt. */
export function leadName(circuit: CircuitView | null, point: string, pin: string): string {
  if (pin === '') return pointName(circuit, point);
  const [id, number = ''] = pin.split('/');
  const connector = circuit?.connectors.find((one) => one.id === id);
  return say('pin_in_doubt', { number, connector: connector ? both(connector.name) : (id ?? '') });
}

/** Name of a field of a reading. */
export function slotName(circuit: CircuitView, slot: string): string {
  if (!slot.startsWith('state:')) return sayCode('slot', slot);
  const variable = circuit.state_variables.find((one) => `state:${one.id}` === slot);
  return variable ? both(variable.name) : slot;
}

/** What a field of a reading holds, in words; empty when it is still to do. */
export function slotText(circuit: CircuitView, entry: ReadingFields, slot: string, reason: string): string {
  if (slot.startsWith('state:')) return stateText(circuit, entry, slot.slice('state:'.length));
  const shown: Partial<Record<string, () => string>> = {
    photo: () => (entry.photos.length > 0 ? say('slot_photo_count', { count: entry.photos.length }) : ''),
    value: () =>
      entry.value === '' && recordedIn(entry).length > 0
        ? say('slot_value_left_out')
        : valueText(entry.value, entry.unit),
    lowest: () => valueText(entry.lowest, entry.unit),
    highest: () => valueText(entry.highest, entry.unit),
    // A draft of an older version knows no recording.
    recorded: () => sayCode('recorded', entry.recorded ?? 'value'),
    condition: () => sayCode('provoke', entry.condition ?? 'none'),
    range: () => (entry.range ? valueText(entry.range, entry.unit) : say('slot_range_auto')),
    complaint: () => (entry.complaint_present ? sayCode('complaint', entry.complaint_present) : ''),
    mode: () => sayCode('mode', entry.mode),
    red: () => leadName(circuit, entry.red, entry.red_pin),
    black: () => leadName(circuit, entry.black, entry.black_pin),
    load: () => loadName(circuit, entry.load),
    placed: () => sayCode('slot', `placed_${entry.leads_placed_anew}`),
    note: () => entry.note,
    reason: () => reason,
  };
  return shown[slot]?.() ?? '';
}

function stateText(circuit: CircuitView, entry: ReadingFields, id: string): string {
  const variable = circuit.state_variables.find((one) => one.id === id);
  return variable ? positionText(variable, positionOf(circuit, entry, id)) : '';
}

/** Name of a position; empty when the circuit has no such one. */
export function positionText(variable: StateVariableView, id: string | undefined): string {
  const position = variable.positions.find((one) => one.id === id);
  if (position) return both(position.name);
  return id === unknown ? say('position_unknown') : '';
}

function loadName(circuit: CircuitView, id: string): string {
  const load = circuit.loads.find((one) => one.id === id);
  return load ? both(load.name) : say('slot_load_none');
}
