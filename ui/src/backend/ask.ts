import type { BlocksView } from '../bindings/BlocksView';
import type { CircuitRow } from '../bindings/CircuitRow';
import type { LinesEntry } from '../bindings/LinesEntry';
import type { MeterView } from '../bindings/MeterView';
import type { TotalsView } from '../bindings/TotalsView';
import type { VinView } from '../bindings/VinView';
import { call } from './shell';

/** What can be said of a VIN while it is typed. */
export const vinCheck = (text: string) => call<VinView>('vin_check', { text });
/** Meters of the shop. */
export const meters = () => call<MeterView[]>('meters');
/** Circuits of the library. */
export const circuits = () => call<CircuitRow[]>('circuits');
/** What a relay circuit can be put together from. */
export const circuitBlocks = () => call<BlocksView>('circuit_blocks');
/** Totals of lines; nothing is kept. */
export const linesTotal = (entry: LinesEntry) => call<TotalsView>('lines_total', { entry });
