import type { CircuitView } from '../../bindings/CircuitView';
import type { TimelineEntry } from '../../bindings/TimelineEntry';
import { amount, percent } from '../../format/format';
import { recordedText } from '../reading/readingWords';
import { settings } from '../../state/settings.svelte';
import { say, sayCode } from '../../words';
import { both } from '../../words/both';

type Values = Partial<Record<string, string>>;

/** What one record says, in one line, without its heading. */
export function eventDetail(event: TimelineEntry, circuit: CircuitView | null): string {
  const lines = details[event.kind]?.(event.values, circuit) ?? Object.values(event.values);
  return lines.filter((line) => line !== undefined && line !== '').join(' · ');
}

type Detail = (values: Values, circuit: CircuitView | null) => (string | undefined)[];

const details: Partial<Record<string, Detail>> = {
  job_opened: (v) => [say('job_number', { number: v.number ?? '' }), v.name],
  intake_kept: (v) => [...(v.fields ?? '').split(',').map((field) => sayCode('field', field)), v.codes],
  photo_kept: (v) => [
    sayCode('purpose', v.purpose ?? ''),
    v.found_later === 'true' ? say('event_found_later') : '',
    v.live === 'true' ? say('event_live') : '',
  ],
  circuit_chosen: (v, circuit) => [circuit && circuit.id === v.circuit ? both(circuit.title) : v.circuit],
  pin_noted: (v, circuit) => [connectorName(circuit, v.connector), say('pin', { number: v.pin ?? '' })],
  caution_acknowledged: (v) => [sayCode('caution', v.caution ?? '', { code: v.caution ?? '' })],
  test_unreachable: (v, circuit) => [
    testTitle(circuit, v.test),
    v.unreachable === 'false' ? say('next_reachable') : '',
  ],
  reading_kept: reading,
  reading_corrected: reading,
  finding_kept: (v) => [
    sayCode('finding_outcome', v.outcome ?? ''),
    settings.language === 'es' ? v.cause_es : v.cause_en,
    v.probability ? percent(Number(v.probability)) : '',
  ],
  estimate_kept: (v) => [version(v), money(v)],
  approval_kept: (v) => [version(v), money(v), v.name, sayCode('channel', v.channel ?? '')],
  part_received: (v) => [v.name, money(v)],
  programming_decided: (v) => [sayCode('route', v.route ?? ''), v.name, money(v)],
  programming_reported: (v) => [sayCode('outcome', v.outcome ?? ''), money(v)],
  fix_proven: (v) => [`${v.before} → ${v.after}`],
  approval_requested: (v) => [version(v), sayCode('channel', v.channel ?? '')],
  approval_withdrawn: (v) => [v.name, sayCode('channel', v.channel ?? '')],
  invoice_kept: (v) => [v.name, money(v)],
  credit_note_kept: (v) => [v.name, money(v)],
  payment_kept: (v) => [sayCode('way', v.way ?? ''), money(v), sayCode('means', v.means ?? '')],
  supplier_step_kept: (v) => [v.name, sayCode('step', v.step ?? ''), money(v)],
  timestamp: (v) => [say('event_covers', { size: v.size ?? '' }), v.authority],
  photo_redacted: (v) => [
    v.count && v.count !== '0' ? say('event_areas', { count: v.count }) : '',
    v.stripped && v.stripped !== '0' ? say('event_stripped', { count: v.stripped }) : '',
    v.marked && v.marked !== '0' ? say('event_marked', { count: v.marked }) : '',
  ],
  photo_marked: (v) => [
    v.count === '0' ? say('event_marks_none') : say('event_marks', { count: v.count ?? '' }),
    v.texts,
  ],
  photo_missing: (v) => [say('event_missing', { count: v.count ?? '' })],
  customer_forgotten: (v) => [
    say('event_destroyed', { count: v.count ?? '', files: v.files ?? '' }),
    v.until ? say('event_keeps_until', { until: v.until }) : '',
  ],
};

function reading(v: Values, circuit: CircuitView | null): (string | undefined)[] {
  if (v.withdrawn === 'true') return [say('event_withdrawn', { number: v.corrects ?? '' })];
  const numbers = { value: v.value ?? '', lowest: v.lowest ?? '', highest: v.highest ?? '' };
  const shown = `${v.number}: ${recordedText({ ...numbers, range: '', unit: v.unit ?? '' })}`;
  const condition = v.condition ? sayCode('provoke', v.condition) : '';
  return [v.corrects ? `${v.corrects} → ${shown}` : shown, condition, testTitle(circuit, v.test)];
}

function testTitle(circuit: CircuitView | null, id: string | undefined): string {
  const test = circuit?.tests.find((one) => one.id === id);
  return test ? both(test.title) : (id ?? '');
}

function version(v: Values): string {
  return say('estimate_version', { version: v.version ?? '' });
}

function money(v: Values): string {
  return v.total === undefined || v.total === '' ? '' : amount(v.total);
}

/** A connector by its name; by its id where the circuit is another one now. */
function connectorName(circuit: CircuitView | null, id: string | undefined): string | undefined {
  const known = circuit?.connectors.find((connector) => connector.id === id);
  return known ? both(known.name) : id;
}
