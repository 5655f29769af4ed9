import type { BlocksEntry } from '../../bindings/BlocksEntry';
import type { BlocksLoad } from '../../bindings/BlocksLoad';
import type { BlocksRequest } from '../../bindings/BlocksRequest';
import type { BlocksSwitch } from '../../bindings/BlocksSwitch';
import type { BlocksView } from '../../bindings/BlocksView';

/** What may carry the load's current. */
export const SWITCHED_BY = ['relay', 'solid_state_relay', 'module_output'] as const;
/** The load that isn't listed. */
export const NAMED = 'named';
export const SORTS = ['motor', 'lamp', 'heater', 'magnet'] as const;
export const UNITS = ['amps', 'ohms'] as const;
export const DRIVES = ['module_feeds', 'module_grounds', 'switch_feeds', 'switch_grounds'] as const;
export const LEGS = ['ignition', 'load_fuse', 'fuse'] as const;
export const ACROSS = ['nothing', 'diode', 'resistor'] as const;
/** Where a condition stands. */
export type Place = 'none' | 'module' | 'leg';

/** Points whose pins are asked for. */
export const PINS = { control: 'mod_out', feed: 'mod_feed', ground: 'mod_ground' } as const;

export const emptyBlocks = (): BlocksEntry => ({
  load: '',
  own: { name: '', complaint: '', sort: 'motor', amount: '', unit: 'amps' },
  switched_by: 'relay',
  drive: 'module_feeds',
  leg: 'ground',
  through: '',
  across: 'nothing',
  module: '',
  asked: { by: '', how: '' },
  conditions: [],
  coil_ohms: '',
  pins: {},
  colours: {},
});

export const byModule = (entry: BlocksEntry) => entry.drive.startsWith('module');
export const feeds = (entry: BlocksEntry) => entry.drive.endsWith('feeds');

/** Is there a relay in a socket? */
export const byRelay = (entry: BlocksEntry) => entry.switched_by !== 'module_output';
/** The wire at the module's output, whose color is asked for. */
export const controlWire = (entry: BlocksEntry) => (byRelay(entry) ? 'wire_control' : 'wire_output');

/** What can drive a load that is switched so: a module's own output is a module's. */
export const drives = (entry: BlocksEntry) =>
  byRelay(entry) ? DRIVES : DRIVES.filter((drive) => drive.startsWith('module'));

const overTheBus = (one: BlocksSwitch | undefined) => one?.how === 'over_the_bus';

/** A request as it usually comes; a switch that drives the coil carries its current. */
function request(view: BlocksView, entry: BlocksEntry, by: string): BlocksRequest {
  const how = view.switches.find((one) => one.id === by)?.how ?? '';
  return { by, how: byModule(entry) ? how : 'directly' };
}

/** What can ask for this load in this way: a message drives no coil. */
export function askers(view: BlocksView, entry: BlocksEntry): BlocksSwitch[] {
  const named = entry.load === NAMED ? view.named_asked_by : [];
  const listed = view.loads.find((load) => load.id === entry.load)?.asked_by ?? named;
  const wired = byModule(entry) ? listed : [...listed, 'control_switch'];
  const known = view.switches.filter((one) => wired.includes(one.id));
  const inOrder = known.sort((left, right) => wired.indexOf(left.id) - wired.indexOf(right.id));
  return byModule(entry) ? inOrder : inOrder.filter((one) => !overTheBus(one));
}

/** Ways in which this one may reach the module. */
export function ways(view: BlocksView, by: string): string[] {
  const asks = view.switches.find((one) => one.id === by);
  return overTheBus(asks) ? ['over_the_bus'] : ['switch_to_ground', 'switch_to_feed'];
}

/** Conditions of this load, and where each may stand. */
export function conditions(view: BlocksView, entry: BlocksEntry): { one: BlocksSwitch; places: Place[] }[] {
  const listed = view.loads.find((load) => load.id === entry.load)?.conditions ?? [];
  return view.switches
    .filter((one) => listed.includes(one.id))
    .map((one) => {
      const seen: Place[] = byModule(entry) ? ['module'] : [];
      const wired: Place[] = overTheBus(one) || !byRelay(entry) ? [] : ['leg'];
      return { one, places: ['none', ...seen, ...wired] };
    });
}

export function placeOf(entry: BlocksEntry, id: string): Place {
  if (entry.through === id) return 'leg';
  return entry.conditions.some((one) => one.by === id) ? 'module' : 'none';
}

/** The module that usually drives this load; of a load of one's own, that of the body. */
function usualModule(view: BlocksView, load: string): string {
  const usual = view.loads.find((one) => one.id === load)?.usual_module || 'body_module';
  return (view.modules.find((one) => one.id === usual) ?? view.modules[0])?.id ?? '';
}

export function withLoad(view: BlocksView, entry: BlocksEntry, load: Pick<BlocksLoad, 'id'>): BlocksEntry {
  const module = byModule(entry) ? usualModule(view, load.id) : '';
  const fresh = { ...entry, load: load.id, module, through: '', conditions: [] };
  return { ...fresh, asked: request(view, fresh, askers(view, fresh)[0]?.id ?? '') };
}

/** Another thing that carries the current: a switch can't drive a module's output, and it has no coil's leg. */
export function withSwitchedBy(view: BlocksView, entry: BlocksEntry, switched_by: string): BlocksEntry {
  const next = { ...entry, switched_by };
  const drive = drives(next).find((one) => one === entry.drive) ?? 'module_feeds';
  return withDrive(view, byRelay(next) ? next : { ...next, through: '' }, drive);
}

/** What was left on disk before a field was there. */
export const wholeBlocks = (left: BlocksEntry): BlocksEntry => ({ ...emptyBlocks(), ...left });

/** Fields that stand in the part that is folded away. */
export const folded = (place: string) => /^(coil_ohms|across|colours\/)/.test(place);

/** Another drive: the coil's other end, the module and what asks follow it. */
export function withDrive(view: BlocksView, entry: BlocksEntry, drive: string): BlocksEntry {
  const next = { ...entry, drive };
  const leg = feeds(next) ? 'ground' : entry.leg === 'ground' ? 'ignition' : entry.leg;
  const module = byModule(next) ? entry.module || usualModule(view, entry.load) : '';
  const kept = byModule(next) ? entry.conditions : [];
  const whole = { ...next, leg, module, conditions: kept };
  const possible = askers(view, whole);
  const same = byModule(next) === byModule(entry) && possible.some((one) => one.id === entry.asked.by);
  return same ? whole : { ...whole, asked: request(view, whole, possible[0]?.id ?? '') };
}

export function withAsker(view: BlocksView, entry: BlocksEntry, by: string): BlocksEntry {
  return { ...entry, asked: request(view, entry, by) };
}

/** A condition stands in one place; the coil's leg has room for one switch. */
export function withPlace(view: BlocksView, entry: BlocksEntry, id: string, place: Place): BlocksEntry {
  const others = entry.conditions.filter((one) => one.by !== id);
  const through = place === 'leg' ? id : entry.through === id ? '' : entry.through;
  return {
    ...entry,
    through,
    conditions: place === 'module' ? [...others, request(view, entry, id)] : others,
  };
}
