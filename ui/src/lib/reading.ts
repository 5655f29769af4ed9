import type { CircuitView } from './bindings/CircuitView';
import type { ComplaintPresent } from './bindings/ComplaintPresent';
import type { MeterMode } from './bindings/MeterMode';
import type { ReadingEntry } from './bindings/ReadingEntry';
import type { ReadingView } from './bindings/ReadingView';
import type { TestView } from './bindings/TestView';
import type { Unit } from './bindings/Unit';

/** Units a meter shows in a mode, the usual one first. */
const units: Record<MeterMode, Unit[]> = {
  volts_dc: ['V', 'mV'],
  volts_low_impedance: ['V', 'mV'],
  ohms: ['ohm', 'kohm', 'Mohm'],
  amps_dc: ['A', 'mA'],
  millivolts_dc: ['mV', 'V'],
  amps_clamp: ['A', 'mA'],
  duty: ['percent'],
  look: ['yes_no'],
  yes_no: ['yes_no'],
};

/** Modes in the order of their use. */
export const modes: MeterMode[] = [
  'volts_dc',
  'volts_low_impedance',
  'ohms',
  'amps_dc',
  'millivolts_dc',
  'amps_clamp',
  'duty',
  'look',
  'yes_no',
];

/** Units of a mode. */
export function unitsOf(mode: MeterMode): Unit[] {
  return units[mode];
}

/** True when the answer is yes or no instead of a number. */
export function isYesNo(mode: MeterMode): boolean {
  return unitsOf(mode)[0] === 'yes_no';
}

/** What is asked of the complaint; empty before it was answered. */
export type Complaint = ComplaintPresent | '';
/** The fields of a reading while they are entered. */
export type ReadingFields = Omit<ReadingEntry, 'complaint_present'> & { complaint_present: Complaint };
/** A reading that is being entered; `reason` says why it is corrected. */
export type ReadingDraft = { entry: ReadingFields; reason: string };

/** What was said of the complaint with the last reading that stands; empty before the first one. */
export function lastComplaint(readings: ReadingView[]): Complaint {
  return readings.filter((reading) => reading.corrected_by === '').at(-1)?.complaint_present ?? '';
}

/** A blank reading, prefilled with what a test asks for and with what was said of the complaint last. */
export function readingFor(test: TestView | undefined, complaint: Complaint = ''): ReadingFields {
  const mode = test?.mode ?? 'volts_dc';
  return {
    test: test?.id ?? '',
    value: '',
    unit: unitsOf(mode)[0] ?? 'V',
    mode,
    range: '',
    red: test?.red ?? '',
    black: test?.black ?? '',
    red_pin: '',
    black_pin: '',
    state: { ...test?.state },
    load: test?.load ?? '',
    complaint_present: complaint,
    leads_placed_anew: true,
    note: '',
    photos: [],
  };
}

/** A reading on record, to be corrected. */
export function readingAgain(reading: ReadingView): ReadingFields {
  const {
    test,
    value,
    unit,
    mode,
    range,
    red,
    black,
    red_pin,
    black_pin,
    state,
    load,
    complaint_present,
    note,
  } = reading;
  const photos = reading.photos.map((photo) => photo.sha256);
  return {
    test,
    value,
    unit,
    mode,
    range,
    red,
    black,
    red_pin,
    black_pin,
    state: { ...state },
    load,
    complaint_present,
    leads_placed_anew: false,
    note,
    photos,
  };
}

/**
 * What is sent: a question about the complaint that was passed over counts as "not known", and every position is sent as it
 * was shown.
 */
export function finished(entry: ReadingFields, circuit: CircuitView): ReadingEntry {
  const shown = circuit.state_variables.map(({ id }) => [id, positionOf(circuit, entry, id)] as const);
  return {
    ...entry,
    complaint_present: entry.complaint_present || 'unknown',
    state: { ...entry.state, ...Object.fromEntries(shown) },
  };
}

/** Stands for a position that nobody knows. */
export const unknown = 'unknown';

/** The position a variable is in: what was said, else its usual one. */
export function positionOf(circuit: CircuitView, entry: ReadingFields, variable: string): string {
  const known = circuit.state_variables.find((one) => one.id === variable);
  return entry.state[variable] ?? known?.usual ?? '';
}

/** The fields of a reading in the order in which they are asked; the state variables stand in the middle, the key first. */
export function slotsOf(circuit: CircuitView, entry: ReadingFields, correcting: boolean): string[] {
  const variables = [...circuit.state_variables].sort(
    (a, b) => Number(b.id === 'key') - Number(a.id === 'key'),
  );
  const leads = isYesNo(entry.mode) ? [] : ['red', 'black'];
  const loads = circuit.loads.length > 0 ? ['load'] : [];
  const placed = leads.length > 0 && !correcting ? ['placed'] : [];
  return [
    'photo',
    'value',
    ...(entry.value === 'OL' ? ['range'] : []),
    'complaint',
    'mode',
    ...leads,
    ...variables.map((variable) => `state:${variable.id}`),
    ...loads,
    ...placed,
    'note',
    ...(correcting ? ['reason'] : []),
  ];
}

/** The text of the value after one key of the keypad; a value is text until Rust reads it. */
export function afterKey(value: string, key: string): string {
  if (key === 'erase') return value === 'OL' ? '' : value.slice(0, -1);
  if (key === 'OL') return 'OL';
  const number = value === 'OL' ? '' : value;
  if (key === '-') return number.startsWith('-') ? number.slice(1) : `-${number}`;
  if (key === '.' && number.includes('.')) return number;
  return number + key;
}

/** Pins in doubt at which a reading may be taken, by the name a record gives them (`module_connector/4`). */
export function pinsInDoubt(circuit: CircuitView): string[] {
  return circuit.connectors.flatMap((connector) =>
    connector.pins.filter((pin) => pin.likely.length > 0).map((pin) => `${connector.id}/${pin.number}`),
  );
}
