import type { BlocksView } from '../bindings/BlocksView';
import type { CircuitRow } from '../bindings/CircuitRow';
import type { CircuitsEntry } from '../bindings/CircuitsEntry';
import type { LinePinEntry } from '../bindings/LinePinEntry';
import type { LinesEntry } from '../bindings/LinesEntry';
import type { MeterView } from '../bindings/MeterView';
import type { OwnLineView } from '../bindings/OwnLineView';
import type { PaperKind } from '../bindings/PaperKind';
import type { Picture } from '../bindings/Picture';
import type { TotalsView } from '../bindings/TotalsView';
import type { VinView } from '../bindings/VinView';
import { call } from './shell';

/** What can be said of a VIN while it is typed. */
export const vinCheck = (text: string) => call<VinView>('vin_check', { text });
/** Meters of the shop. */
export const meters = () => call<MeterView[]>('meters');
/** Circuits of the library and the shop's own that have the words, those of the job's complaint first. */
export const circuits = (entry: CircuitsEntry) => call<CircuitRow[]>('circuits', { entry });
/** A circuit as it is drawn while nothing is known of it. */
export const circuitPicture = (circuit: string, language: string) =>
  call<Picture>('circuit_picture', { circuit, language });
/** What a relay circuit can be put together from. */
export const circuitBlocks = () => call<BlocksView>('circuit_blocks');
/** Lines of the shop's own: pinned ones, then those used before, newest first. */
export const ownLines = () => call<OwnLineView[]>('own_lines');
/** Pins a line, or lets it go. */
export const linePin = (entry: LinePinEntry) => call<OwnLineView[]>('line_pin', { entry });
/** Totals of lines; nothing is kept. */
export const linesTotal = (job: string, paper: PaperKind, entry: LinesEntry) =>
  call<TotalsView>('lines_total', { job, paper, entry });
