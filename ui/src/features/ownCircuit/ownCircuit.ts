import type { OwnCircuitEntry } from '../../bindings/OwnCircuitEntry';
import type { OwnCircuitProblem } from '../../bindings/OwnCircuitProblem';
import type { OwnModuleEntry } from '../../bindings/OwnModuleEntry';
import type { OwnPartEntry } from '../../bindings/OwnPartEntry';

/** A circuit that is being entered; `id` is empty for a new one. */
export type OwnCircuitDraft = { id: string; entry: OwnCircuitEntry };

/** Kinds of parts in the order in which a diagram is followed from the battery. */
export const kinds = [
  'battery',
  'wire',
  'fuse',
  'connection',
  'splice',
  'switch',
  'relay_coil',
  'relay_contact',
  'motor',
  'lamp',
  'load',
  'resistor',
  'diode',
  'thermistor',
  'sensor',
];

type NumberField = 'amps' | 'length_m' | 'size' | 'ohms' | 'watts' | 'percent';
const numbers: Partial<Record<string, NumberField[]>> = {
  fuse: ['amps'],
  wire: ['length_m', 'size'],
  relay_coil: ['ohms'],
  motor: ['amps'],
  lamp: ['watts'],
  load: ['ohms'],
  resistor: ['ohms'],
  thermistor: ['ohms'],
  sensor: ['percent', 'ohms'],
};

/** The number fields of a kind. */
export function numbersOf(kind: string): NumberField[] {
  return numbers[kind] ?? [];
}

/** Kinds that can be the part that should work. */
const working = new Set(['motor', 'lamp', 'load', 'relay_coil', 'sensor', 'thermistor']);

/** Names of what should perhaps work: loads, sensors, modules that should be heard on the bus. */
export function loadsOf(entry: OwnCircuitEntry): string[] {
  const parts = entry.parts.filter((part) => working.has(part.kind)).map((part) => part.name);
  const onBus = entry.modules.filter((module) => module.can_high !== '').map((module) => module.name);
  return [...parts, ...onBus].filter((name) => name !== '');
}

/** Names of the relays. */
export function relaysOf(entry: OwnCircuitEntry): string[] {
  return [...new Set(entry.parts.map((part) => part.relay.trim()).filter((relay) => relay !== ''))];
}

/** All points that a part is at, in the order of the parts. */
export function pointsOf(entry: OwnCircuitEntry): string[] {
  const ends = entry.parts.flatMap((part) =>
    [
      part.from,
      part.to,
      ...(part.kind === 'splice' ? part.others : []),
      part.kind === 'sensor' ? part.signal : '',
    ].map((point) => point.trim()),
  );
  return [...new Set(ends.filter((point) => point !== ''))];
}

/** An entry with nothing in it but the battery, whose posts have their names. */
export function freshCircuit(names: { battery: string; plus: string; minus: string }): OwnCircuitEntry {
  const battery = { ...blankPart('battery'), name: names.battery, from: names.plus, to: names.minus };
  return {
    title: '',
    source: '',
    complaint: '',
    works: '',
    works_while: 'key_on',
    parts: [battery],
    connectors: [],
    out_of_reach: [],
    never_load: [],
    modules: [],
  };
}

/** The next part, beginning where the last one ends, with a name that isn't taken. */
export function nextPart(entry: OwnCircuitEntry, kind: string, word: string): OwnPartEntry {
  const last = entry.parts.at(-1);
  const from = last === undefined ? '' : last.kind === 'battery' ? last.from : last.to;
  const taken = new Set(entry.parts.map((part) => part.name));
  let number = 1;
  while (taken.has(`${word} ${number}`)) number += 1;
  const relay = kind === 'relay_contact' ? (relaysOf(entry)[0] ?? '') : '';
  return { ...blankPart(kind), name: `${word} ${number}`, from, relay };
}

function blankPart(kind: string): OwnPartEntry {
  return {
    name: '',
    from: '',
    to: '',
    kind,
    amps: '',
    length_m: '',
    size: '',
    size_unit: 'mm2',
    colour: '',
    closed_by: 'request',
    others: kind === 'splice' ? [''] : [],
    signal: '',
    percent: '',
    relay: '',
    closed_at_rest: false,
    ohms: '',
    watts: '',
  };
}

/** The first problem of a field. */
export function problemAt(problems: OwnCircuitProblem[], place: string): OwnCircuitProblem | undefined {
  return problems.find((problem) => problem.place === place);
}

/** Problems of a part or anything else that has fields of its own, itself included. */
export function problemsIn(problems: OwnCircuitProblem[], place: string): OwnCircuitProblem[] {
  return problems.filter((problem) => problem.place === place || problem.place.startsWith(`${place}/`));
}

const shown = [/^(title|source|complaint|works)$/, /^parts\/\d+/, /^connectors\/\d+/, /^modules\/\d+/];

/** Problems that belong to no field of the screen. */
export function problemsElsewhere(problems: OwnCircuitProblem[]): OwnCircuitProblem[] {
  return problems.filter((problem) => !shown.some((pattern) => pattern.test(problem.place)));
}

export const blankModule = (): OwnModuleEntry => ({
  name: '',
  feed: '',
  ground: '',
  inputs: [],
  outputs: [],
  references: [],
  sensor_grounds: [],
  can_high: '',
  can_low: '',
  can_terminated: false,
});

/** A module as drafts had it before it could have several inputs and outputs. */
type OlderModule = {
  name: string;
  feed: string;
  ground: string;
  output: string;
  drives: string;
  input: string;
  asked_by: string;
};

/** What was left on disk by an older version, with the fields it lacks. */
export function wholeCircuit(left: OwnCircuitEntry & { module?: OlderModule | null }): OwnCircuitEntry {
  const { module, ...entry } = left;
  const older = module ? [newer(module)] : [];
  const modules = [...older, ...((entry.modules as OwnModuleEntry[] | undefined) ?? [])];
  const parts = entry.parts.map((part) => ({ ...blankPart(part.kind), ...part }));
  return { ...entry, works_while: entry.works_while || 'key_on', parts, modules };
}

function newer({ name, feed, ground, output, drives, input, asked_by }: OlderModule): OwnModuleEntry {
  const inputs = input.trim() === '' ? [] : [{ point: input, asked_by }];
  const outputs = [{ point: output, drives, duty_percent: '', asked_by: 'all' }];
  return { ...blankModule(), name, feed, ground, inputs, outputs };
}
