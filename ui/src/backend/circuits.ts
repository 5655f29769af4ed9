import type { OwnCircuitCheckView } from '../bindings/OwnCircuitCheckView';
import type { OwnCircuitEntry } from '../bindings/OwnCircuitEntry';
import type { OwnCircuitRow } from '../bindings/OwnCircuitRow';
import { call } from './shell';

/** The shop's own circuits. */
export const ownCircuits = () => call<OwnCircuitRow[]>('own_circuits');
/** A kept circuit as it was typed. */
export const ownCircuitView = (circuit: string) => call<OwnCircuitEntry>('own_circuit_view', { circuit });
/** Everything that is wrong in an entry, or the circuit drawn and solved; nothing is kept. */
export const ownCircuitCheck = (entry: OwnCircuitEntry, state: Record<string, string>) =>
  call<OwnCircuitCheckView>('own_circuit_check', { entry, state });
/** Keeps a whole circuit; `circuit` is empty for a new one. */
export const ownCircuitKeep = (circuit: string, entry: OwnCircuitEntry) =>
  call<OwnCircuitRow[]>('own_circuit_keep', { circuit, entry });
/** Takes a circuit out of the list. */
export const ownCircuitRemove = (circuit: string) => call<OwnCircuitRow[]>('own_circuit_remove', { circuit });
/** Writes a circuit as a file for others; gives its path. */
export const ownCircuitExport = (circuit: string) => call<string>('own_circuit_export', { circuit });
/** Reads a circuit somebody sent; nothing is kept. */
export const ownCircuitImport = (text: string) => call<OwnCircuitEntry>('own_circuit_import', { text });
