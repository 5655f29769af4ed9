import type { JobView } from '../../bindings/JobView';
import type { Key } from '../../words';

/** A station of the job: its screen, its name, what is on record, and the verdict key that Rust gives for it. */
export type Station = { path: string; name: Key; count: (view: JobView) => number; can?: string };

/** The stations in the order in which a job usually runs. */
export const stations: Station[] = [
  { path: 'intake', name: 'station_intake', count: (view) => filledIn(view) },
  {
    path: 'circuit',
    name: 'station_circuit',
    count: (view) => Number(!!view.meter) + Number(!!view.circuit),
  },
  { path: 'pins', name: 'station_pins', count: (view) => notedPins(view) },
  { path: 'readings', name: 'station_readings', count: (view) => view.readings_total, can: 'keep_reading' },
  { path: 'photos', name: 'station_photos', count: (view) => view.photos_total },
  { path: 'reasoning', name: 'station_reasoning', count: (view) => weighed(view) },
  { path: 'finding', name: 'station_finding', count: (view) => view.findings.length, can: 'keep_finding' },
  {
    path: 'estimate',
    name: 'station_estimate',
    count: (view) => view.estimates.length,
    can: 'keep_estimate',
  },
  { path: 'approval', name: 'station_approval', count: (view) => view.approvals.length, can: 'approve' },
  { path: 'part', name: 'station_part', count: (view) => view.parts.length, can: 'receive_part' },
  {
    path: 'programming',
    name: 'station_programming',
    count: (view) => Number(!!view.programming.decision) + Number(!!view.programming.outcome),
    can: 'decide_programming',
  },
  { path: 'proof', name: 'station_proof', count: (view) => view.proofs.length, can: 'prove_fix' },
  { path: 'invoice', name: 'station_invoice', count: (view) => Number(!!view.invoice), can: 'keep_invoice' },
  {
    path: 'hand-over',
    name: 'station_hand_over',
    count: (view) => Number(!!view.hand_over),
    can: 'hand_over',
  },
  {
    path: 'papers',
    name: 'station_papers',
    count: (view) => view.reports.length + view.packets.length,
    can: 'write_report',
  },
];

/** Where a technician most likely goes on, by the stage Rust names. */
export const goesOn: Partial<Record<string, string>> = {
  intake: 'intake',
  measuring: 'reading',
  finding: 'estimate',
  estimate: 'approval',
  approved: 'part',
  repair: 'reading',
  proof: 'invoice',
  invoiced: 'hand-over',
  handed_over: 'papers',
};

function filledIn(view: JobView): number {
  const { vin, odometer, complaint, customer } = view.intake;
  return [vin, odometer, complaint, customer].filter((text) => text !== '').length;
}

function notedPins(view: JobView): number {
  const connectors = view.circuit?.connectors ?? [];
  return connectors.flatMap(({ pins }) => pins.filter((pin) => pin.noted)).length;
}

/** Causes are computed, not on record: what the reasoning has on record are the readings it weighs. */
function weighed(view: JobView): number {
  return view.diagnosis ? view.readings_counted : 0;
}
