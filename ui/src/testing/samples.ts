import type { CauseView } from '../bindings/CauseView';
import type { CircuitView } from '../bindings/CircuitView';
import type { DiagnosisView } from '../bindings/DiagnosisView';
import type { JobView } from '../bindings/JobView';
import type { MeterView } from '../bindings/MeterView';
import type { ModuleView } from '../bindings/ModuleView';
import type { ProgrammingView } from '../bindings/ProgrammingView';
import type { ReadingView } from '../bindings/ReadingView';
import type { TestView } from '../bindings/TestView';

/** The same text in both languages. */
export const text = (en: string): { en: string; es: string } => ({ en, es: en });

/** A test of the invented circuit: volts at its only point. */
export function test(id: string): TestView {
  return {
    id,
    title: text(`Test ${id}`),
    mode: 'volts_dc',
    red: 'p',
    black: 'p',
    state: {},
    load: '',
    minutes: 2,
    cautions: [],
    compares: 'value',
    condition: null,
    expected: null,
  };
}

export function circuit(): CircuitView {
  return {
    id: 'lamp',
    title: text('A lamp'),
    width: 1,
    height: 1,
    points: [
      {
        id: 'p',
        name: text('Point'),
        x: 0,
        y: 0,
        measured_volts: null,
        expected_volts: null,
        reachable: true,
      },
    ],
    parts: [],
    connectors: [
      {
        id: 'socket',
        name: text('Socket'),
        pins: ['1', '2'].map((number, column) => ({
          number,
          point: 'p',
          column,
          row: 0,
          colour: 'RD',
          function: text('feed'),
          noted: false,
          noted_function: '',
          note: '',
          in_doubt: false,
          likely: [],
          photos: [],
        })),
      },
    ],
    state_variables: [],
    loads: [],
    tests: ['a', 'b', 'c'].map(test),
  };
}

export function cause(id: string, module = false): CauseView {
  return {
    id,
    name: text(`Cause ${id}`),
    component: id,
    probability: 0.8,
    likelihood: 'likely',
    module,
    ruled_out_by: '',
    ruled_out_by_number: 0,
    severity_ohms: null,
    grounds: [],
  };
}

export function module(missing: string[]): ModuleView {
  return {
    name: text('the lamp module'),
    may_be_called: missing.length === 0,
    probability: 0.7,
    likelihood: 'likely',
    missing: missing.map((id) => ({ code: 'supply_not_observed', test: id, about: text('') })),
    group: [],
    or_programming: false,
    grounds: [],
    overturned_by: [],
  };
}

export function diagnosis(part: Partial<DiagnosisView> = {}): DiagnosisView {
  return {
    engine: '1',
    next_step: { step: 'finding', test: '', module: text(''), condition: null },
    causes: [],
    unmodelled: 0.1,
    next: ['a', 'b'].map((id) => ({ test: id, bits: 0.5, minutes: 2, cautions: [] })),
    held_back: [],
    modules: [],
    doubts: [],
    open_fuses: [],
    overturned_by: [],
    closed_jobs: 0,
    test_or_buy: null,
    ...part,
  };
}

export function meter(name: string, percent = '0.5'): MeterView {
  return {
    id: name,
    name,
    volts_input_ohms: '10000000',
    low_impedance_ohms: '',
    accuracy_percent: percent,
    accuracy_counts: 2,
  };
}

export function reading(number: number, part: Partial<ReadingView> = {}): ReadingView {
  return {
    record: `record-${number}`,
    number,
    kept: '2026-11-28T10:00:00-05:00',
    test: 'a',
    value: '12.4',
    unit: 'V',
    mode: 'volts_dc',
    range: '',
    lowest: '',
    highest: '',
    condition: null,
    red: 'p',
    black: 'p',
    red_pin: '',
    black_pin: '',
    state: {},
    load: '',
    complaint_present: 'yes',
    placement: 1,
    note: '',
    expected: null,
    photos: [],
    seen: null,
    corrected_by: '',
    withdrawn: false,
    corrects: '',
    correction_reason: '',
    ...part,
  };
}

/** A job with meter and circuit, in which everything is allowed. */
export function job(part: Partial<JobView> = {}): JobView {
  const intake = { vin: '', plate: '', make: '', model: '', year: '', odometer: '' };
  const customer = { complaint: '', customer: '', phone: '', email: '', language: '', photos: [] };
  const approver = {
    approver: '',
    approver_name: '',
    approver_role: '',
    approver_phone: '',
    approver_limit: '',
  };
  return {
    job: 'j1',
    number: 1,
    records: 7,
    stage: 'measuring',
    steps: [],
    next: { step: 'reading', test: '' },
    waiting: [],
    intake: {
      ...intake,
      odometer_unit: 'mi',
      ...customer,
      ...approver,
      fault_codes: [],
      comes_back_from: '',
      warranty: false,
    },
    meter: meter('Meter'),
    circuit: circuit(),
    readings: [],
    readings_total: 0,
    readings_counted: 0,
    photos_total: 0,
    unreachable: [],
    cautions: [],
    diagnosis: diagnosis(),
    findings: [],
    taxed_kinds: ['part', 'supplies', 'core_charge'],
    estimates: [],
    approvals: [],
    approved_total: '',
    parts: [],
    programming: programming(),
    proofs: [],
    to_prove: null,
    telling: null,
    blamed: null,
    waivers: [],
    waiver_draft: { en: '', es: '' },
    written_wanted: false,
    request_longest: 480,
    request_draft: { en: '', es: '' },
    requests: [],
    invoices: [],
    credit_notes: [],
    payments: [],
    balance: { billed: '0', credited: '0', paid: '0', due: '0', is_deposit: true },
    suppliers: [],
    hand_over: null,
    reports: [],
    packets: [],
    checkpoint: null,
    times: [],
    timeline: [],
    advice: [],
    doubts: [],
    notices: [],
    can: {},
    ...counted(part),
  };
}

/** Nothing weighed, decided or done yet. */
export function programming(part: Partial<ProgrammingView> = {}): ProgrammingView {
  return {
    routes: [],
    left_out: [],
    decision: null,
    earlier_decisions: [],
    attempts: [],
    cost: null,
    modules: [],
    lost_session: [],
    hook_up_minutes: 30,
    ...part,
  };
}

/** The numbers of readings that go with the readings shown, where a test says no others. */
function counted(part: Partial<JobView>): Partial<JobView> {
  const readings_total = part.readings?.at(-1)?.number ?? 0;
  const readings_counted = part.readings?.filter((one) => one.corrected_by === '').length ?? 0;
  return { readings_total, readings_counted, ...part };
}
