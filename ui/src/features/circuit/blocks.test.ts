import { describe, expect, it } from 'vitest';
import {
  NAMED,
  askers,
  conditions,
  controlWire,
  drives,
  emptyBlocks,
  placeOf,
  wholeBlocks,
  withDrive,
  withLoad,
  withPlace,
  withSwitchedBy,
} from './blocks';
import type { BlocksLoad } from '../../bindings/BlocksLoad';
import type { BlocksView } from '../../bindings/BlocksView';

const both = (text: string) => ({ en: text, es: text });
const starter: BlocksLoad = {
  id: 'starter',
  complaint: both("doesn't crank"),
  asked_by: ['ignition_start', 'start_message'],
  conditions: ['range_switch', 'theft_release'],
  usual_module: 'engine_module',
};
const view: BlocksView = {
  loads: [starter],
  named_asked_by: ['control_switch', 'start_message'],
  switches: [
    { id: 'start_message', name: both('message'), how: 'over_the_bus' },
    { id: 'ignition_start', name: both('ignition switch'), how: 'switch_to_feed' },
    { id: 'control_switch', name: both('switch'), how: 'switch_to_ground' },
    { id: 'range_switch', name: both('range switch'), how: 'switch_to_ground' },
    { id: 'theft_release', name: both('theft system'), how: 'over_the_bus' },
  ],
  modules: [
    { id: 'fan_module', name: both('fan module') },
    { id: 'engine_module', name: both('engine module') },
    { id: 'body_module', name: both('body module') },
  ],
};

describe('blocks of a relay circuit', () => {
  const chosen = withLoad(view, emptyBlocks(), starter);

  it('a load comes with what usually asks for it, and a module', () => {
    expect(chosen.asked).toEqual({ by: 'ignition_start', how: 'switch_to_feed' });
    expect(chosen.module).toBe('engine_module');
    expect(askers(view, chosen).map((one) => one.id)).toEqual(['ignition_start', 'start_message']);
  });

  it('the other end follows what drives the coil', () => {
    const grounded = withDrive(view, chosen, 'module_grounds');
    expect([grounded.leg, grounded.module]).toEqual(['ignition', 'engine_module']);
    expect(withDrive(view, grounded, 'module_feeds').leg).toBe('ground');
  });

  it('a switch that drives the coil needs no module, and no message drives one', () => {
    const direct = withDrive(view, chosen, 'switch_feeds');
    expect([direct.module, direct.asked.how]).toEqual(['', 'directly']);
    expect(askers(view, direct).map((one) => one.id)).toEqual(['ignition_start', 'control_switch']);
    expect(conditions(view, direct).map(({ places }) => places)).toEqual([['none', 'leg'], ['none']]);
    expect(withDrive(view, direct, 'module_feeds').asked.how).toBe('switch_to_feed');
  });

  it('a condition stands in one place', () => {
    const seen = withPlace(view, chosen, 'range_switch', 'module');
    expect([placeOf(seen, 'range_switch'), seen.conditions.length]).toEqual(['module', 1]);
    const inLeg = withPlace(view, seen, 'range_switch', 'leg');
    expect([placeOf(inLeg, 'range_switch'), inLeg.through, inLeg.conditions.length]).toEqual([
      'leg',
      'range_switch',
      0,
    ]);
    expect(placeOf(withPlace(view, inLeg, 'range_switch', 'none'), 'range_switch')).toBe('none');
  });

  it("a module's own output has neither a coil's leg nor a switch that drives it", () => {
    const inLeg = withPlace(view, withDrive(view, chosen, 'module_grounds'), 'range_switch', 'leg');
    const own = withSwitchedBy(view, inLeg, 'module_output');
    expect([own.drive, own.through, controlWire(own)]).toEqual(['module_grounds', '', 'wire_output']);
    expect(drives(own)).toEqual(['module_feeds', 'module_grounds']);
    expect(conditions(view, own).map(({ places }) => places)).toEqual([
      ['none', 'module'],
      ['none', 'module'],
    ]);
    const bySwitch = withDrive(view, chosen, 'switch_feeds');
    expect(withSwitchedBy(view, bySwitch, 'module_output')).toMatchObject({
      drive: 'module_feeds',
      module: 'engine_module',
    });
  });

  it("a load of one's own is asked for by what asks for any", () => {
    const own = withLoad(view, emptyBlocks(), { id: NAMED });
    expect(own.asked).toEqual({ by: 'control_switch', how: 'switch_to_ground' });
    expect(own.module).toBe('body_module');
    expect(askers(view, own).map((one) => one.id)).toEqual(['control_switch', 'start_message']);
  });

  it('what was left on disk by an older version gets the fields it lacks', () => {
    const { own, switched_by, ...left } = { ...chosen, drive: 'module_grounds' };
    expect([own.sort, switched_by]).toEqual(['motor', 'relay']);
    expect(wholeBlocks(left as typeof chosen)).toMatchObject({ drive: 'module_grounds', own, switched_by });
  });
});
