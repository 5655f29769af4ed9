import type { CircuitView } from '../../bindings/CircuitView';
import type { ComplaintPresent } from '../../bindings/ComplaintPresent';
import type { MeterMode } from '../../bindings/MeterMode';
import type { ReadingCondition } from '../../bindings/ReadingCondition';
import type { ReadingEntry } from '../../bindings/ReadingEntry';
import type { ReadingView } from '../../bindings/ReadingView';
import type { TestView } from '../../bindings/TestView';
import type { Unit } from '../../bindings/Unit';

/** Units a meter shows in a mode, the usual one first. */
const units: Record<MeterMode, Unit[]> = {
  volts_dc: ['V', 'mV'],
  volts_low_impedance: ['V', 'mV'],
  ohms: ['ohm', 'kohm', 'Mohm'],
  amps_dc: ['A', 'mA'],
  millivolts_dc: ['mV', 'V'],
  amps_clamp: ['A', 'mA'],
  duty: ['percent'],
  volts_ac: ['V', 'mV'],
  hertz: ['Hz'],
  continuity: ['yes_no'],
  look: ['yes_no'],
  yes_no: ['yes_no'],
};

/** Modes in the order of their use. */
export const modes: MeterMode[] = [
  'volts_dc',
  'volts_low_impedance',
  'ohms',
  'continuity',
  'amps_dc',
  'millivolts_dc',
  'amps_clamp',
  'duty',
  'volts_ac',
  'hertz',
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

/** True when no leads are held: a look, or a question. */
export function isSeen(mode: MeterMode): boolean {
  return mode === 'look' || mode === 'yes_no';
}

/** What is asked of the complaint; empty before it was answered. */
export type Complaint = ComplaintPresent | '';
/** Which numbers of a minimum/maximum recording are read, in the place of the steady value. */
export type Recorded = TestView['compares'] | 'both';
/** The fields of a reading while they are entered. */
export type ReadingFields = Omit<ReadingEntry, 'complaint_present'> & {
  complaint_present: Complaint;
  recorded: Recorded;
};
/** A reading that is being entered; `reason` says why it is corrected. */
export type ReadingDraft = { entry: ReadingFields; reason: string };

/** What can be read in the place of a steady value, and what can be done to the circuit meanwhile, the usual first. */
export const recordings: Recorded[] = ['value', 'lowest', 'highest', 'both'];
export const conditions: ReadingCondition[] = ['wiggled', 'heated', 'cooled'];

/** The numbers of a recording that are asked for. */
export function recordedIn(entry: ReadingFields): ('lowest' | 'highest')[] {
  if (isYesNo(entry.mode)) return [];
  return (['lowest', 'highest'] as const).filter(
    (one) => entry.recorded === one || entry.recorded === 'both',
  );
}

/**
 * A blank reading, prefilled with what a test asks for and with what is done to the circuit meanwhile. What the car does right
 * now is asked anew with every reading.
 */
export function readingFor(
  test: TestView | undefined,
  complaint: Complaint = '',
  condition: ReadingCondition | null = null,
): ReadingFields {
  const mode = test?.mode ?? 'volts_dc';
  return {
    test: test?.id ?? '',
    value: '',
    unit: unitsOf(mode)[0] ?? 'V',
    mode,
    range: '',
    lowest: '',
    highest: '',
    recorded: test?.compares ?? 'value',
    condition: test?.condition ?? condition,
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
    photo_taken: false,
    kept_against_photo: false,
  };
}

/** Where the leads go, and in which position of what is switched, as an address says it. */
export type Leads = { red: string; black: string; variable: string; position: string };

const LEADS = 'leads';

/** The part of an address that says where the leads go. */
export function leadsAddress({ red, black, variable, position }: Leads): string {
  return [LEADS, red, black, variable, position].join('~');
}

/** The leads an address speaks of; nothing where it speaks of something else. */
export function leadsIn(about: string): Leads | undefined {
  const [kind, red = '', black = '', variable = '', position = ''] = about.split('~');
  return kind === LEADS ? { red, black, variable, position } : undefined;
}

/** A reading of one's own, with the leads already placed. */
export function readingAt({ red, black, variable, position }: Leads): ReadingFields {
  const state = variable === '' ? {} : { [variable]: position };
  return { ...readingFor(undefined), red, black, state };
}

/** A reading on record, to be corrected. */
export function readingAgain(reading: ReadingView): ReadingFields {
  const {
    test,
    value,
    unit,
    mode,
    range,
    lowest,
    highest,
    condition,
    red,
    black,
    red_pin,
    black_pin,
    state,
    load,
    complaint_present,
    note,
  } = reading;
  const recorded = lowest && highest ? 'both' : lowest ? 'lowest' : highest ? 'highest' : 'value';
  const photos = reading.photos.map((photo) => photo.sha256);
  return {
    test,
    value,
    unit,
    mode,
    range,
    lowest,
    highest,
    recorded,
    condition,
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
    photo_taken: reading.seen?.decision === 'taken' || reading.seen?.decision === 'corrected',
    kept_against_photo: false,
  };
}

/** The same reading, taken anew: everything but what is seen this time. */
export function readingTakenAnew(reading: ReadingView): ReadingFields {
  const blank = { value: '', lowest: '', highest: '', note: '', photos: [], photo_taken: false };
  return { ...readingAgain(reading), ...blank, complaint_present: '', leads_placed_anew: true };
}

/** The numbers that are entered one after the other; of an answer only the answer. */
export function numbersOf(entry: ReadingFields): ('value' | 'lowest' | 'highest')[] {
  return [...recordedIn(entry), 'value'];
}

/** What is still to be entered before it can be kept: a value, or what the car does right now. */
export function missing(entry: ReadingFields): 'value' | 'now' | null {
  if (numbersOf(entry).every((one) => entry[one] === '')) return 'value';
  return entry.complaint_present === '' ? 'now' : null;
}

/**
 * What is sent: a question about the complaint that was passed over counts as "not known", and every position is sent as it
 * was shown. `against` says that the technician was asked about what the photo seems to show, and keeps what was entered.
 */
export function finished(entry: ReadingFields, circuit: CircuitView, against = false): ReadingEntry {
  const shown = circuit.state_variables.map(({ id }) => [id, positionOf(circuit, entry, id)] as const);
  const asked = recordedIn(entry);
  const sent: Partial<ReadingFields> & ReadingEntry = {
    ...entry,
    lowest: asked.includes('lowest') ? entry.lowest : '',
    highest: asked.includes('highest') ? entry.highest : '',
    // A draft of an older version knows no condition, and nothing of what its photo shows.
    condition: entry.condition ?? null,
    photo_taken: entry.photo_taken ?? false,
    kept_against_photo: against,
    complaint_present: entry.complaint_present || 'unknown',
    state: { ...entry.state, ...Object.fromEntries(shown) },
  };
  delete sent.recorded;
  return sent;
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
  const leads = isSeen(entry.mode) ? [] : ['red', 'black'];
  const loads = circuit.loads.length > 0 ? ['load'] : [];
  const placed = leads.length > 0 && !correcting ? ['placed'] : [];
  const numbers = numbersOf(entry);
  return [
    'photo',
    ...numbers,
    ...(numbers.some((one) => entry[one] === 'OL') ? ['range'] : []),
    'complaint',
    'mode',
    ...leads,
    ...variables.map((variable) => `state:${variable.id}`),
    ...loads,
    ...placed,
    ...(isYesNo(entry.mode) ? [] : ['recorded']),
    ...(entry.mode === 'look' ? [] : ['condition']),
    'note',
    ...(correcting ? ['reason'] : []),
  ];
}

/** True for a field that takes a number of the meter. */
export function isNumber(slot: string): slot is 'value' | 'lowest' | 'highest' {
  return slot === 'value' || slot === 'lowest' || slot === 'highest';
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
