import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { JobView } from '../../bindings/JobView';
import type { NextStepView } from '../../bindings/NextStepView';
import { open } from '../../state/job.svelte';
import { answers, callsOf, drafts, forget, refusal } from '../../testing/fakeShell';
import { circuit, diagnosis, job, meter, module, text } from '../../testing/samples';
import { clear, count, one, pick, press, settled, show, textOf, type } from '../../testing/screen';
import MeterForm from '../meter/MeterForm.svelte';
import Intake from './Intake.svelte';
import Pins from '../circuit/Pins.svelte';
import Reasoning from '../diagnosis/Reasoning.svelte';
import ShopForm from '../shop/ShopForm.svelte';

vi.mock('../../backend/shell', () => import('../../testing/fakeShell'));

const props = {
  get view() {
    return open.view as JobView;
  },
  about: '',
};

beforeEach(() => {
  forget();
  open.view = job();
});
afterEach(clear);

describe('intake', () => {
  it('keeps what is being typed while the finger is still in the field', async () => {
    show(Intake, props);
    await settled();
    await type('complaint', 'It hums');
    expect(drafts.get('j1 intake')).toBe('{"complaint":"It hums"}');
    await clear();
    show(Intake, props);
    await settled();
    expect(one<HTMLTextAreaElement>('[name=complaint]').value).toBe('It hums');
  });

  it('drops the draft with the record, but not what another field still holds', async () => {
    show(Intake, props);
    await settled();
    await type('vin', 'WRONG');
    await type('make', 'Norrin');
    answers.intake_keep = () => job({ intake: { ...job().intake, make: 'Norrin' } });
    one('[name=make]').dispatchEvent(new Event('change', { bubbles: true }));
    await settled();
    expect(callsOf('intake_keep')).toEqual([
      { form: { job: 'j1', draft: '', records: null }, entry: { make: 'Norrin' } },
    ]);
    expect(drafts.get('j1 intake')).toBe('{"vin":"WRONG"}');
    expect(textOf('div.field:has([name=make]) [data-record=true]')).toContain('on record');
  });
});

describe('an intake field that is refused', () => {
  it('says so under the field, although what was typed stays a draft', async () => {
    show(Intake, props);
    await settled();
    await type('odometer', '-5');
    answers.intake_keep = refusal('odometer_digits', { value: '-5' });
    one('[name=odometer]').dispatchEvent(new Event('change', { bubbles: true }));
    await settled();
    expect(textOf('div.field:has([name=odometer]) [role=alert]')).toContain('digits only');
    expect(drafts.get('j1 intake')).toBe('{"odometer":"-5"}');
  });
});

describe('the first start', () => {
  it('keeps what is being typed, without a shop', async () => {
    answers.regions = () => [];
    show(ShopForm, {});
    await settled();
    await type('shop_name', 'Norrin Lane');
    await clear();
    show(ShopForm, {});
    await settled();
    expect(one<HTMLInputElement>('[name=shop_name]').value).toBe('Norrin Lane');
    answers.shop_set_up = refusal('field_empty', { field: 'technician' });
    await press('set-up');
    expect(textOf('[data-name=refused]')).toContain('Your name');
  });
});

describe('meters', () => {
  it('of one name stand side by side and are told apart', async () => {
    const list = [meter('Bench', '0.5'), meter('Bench', '1.2'), meter('Other', '0.5'), meter('Bench', '1.2')];
    answers.meters = () => list;
    answers.meter_choose = () => job({ meter: list[1] });
    show(MeterForm, props);
    await settled();
    expect(count('[data-name=meter] [data-value]')).toBe(4);
    await pick('meter', '1');
    expect(callsOf('meter_choose')[0]?.entry).toMatchObject({ name: 'Bench', accuracy_percent: '1.2' });
    expect(count('[data-name=meter] .picked')).toBe(1);
    expect(one('[data-name=meter] .picked').dataset.value).toBe('1');
  });
});

describe('the next step', () => {
  it('of the gate names the test and what it is missing for', async () => {
    const modules = [module(['c'])];
    const next_step: NextStepView = { step: 'gate', test: 'c', module: text('lamp module'), condition: null };
    open.view = job({ diagnosis: diagnosis({ next: [], next_step, modules }) });
    show(Reasoning, props);
    await settled();
    expect(textOf('[data-name=next-test]')).toBe('Test c');
    expect(textOf('[data-name=next-gate]')).toContain('lamp module');
    expect(one('[data-name=measure]').getAttribute('href')).toBe('#/job/j1/reading/c');
    expect(document.body.textContent).not.toContain('No further test');
  });

  it('is the finding when no test tells more', async () => {
    const next_step: NextStepView = { step: 'finding', test: '', module: text(''), condition: null };
    open.view = job({ diagnosis: diagnosis({ next: [], next_step }) });
    show(Reasoning, props);
    await settled();
    const button = one('[data-name=write-finding]');
    expect([button.getAttribute('href'), button.classList.contains('main')]).toEqual([
      '#/job/j1/finding',
      true,
    ]);
  });

  it('leaves the other tests where they were asked for', async () => {
    show(Reasoning, { ...props, view: job(), about: 'tests' });
    await settled();
    expect(document.activeElement).toBe(one('[data-name=other-tests]'));
    expect(Element.prototype.scrollIntoView).toHaveBeenCalled();
  });
});

describe('a pin', () => {
  it('is called an example until the technician noted his own', async () => {
    show(Pins, props);
    await settled();
    expect(count('[data-name=pin-example]')).toBe(2);
    const fresh = circuit();
    for (const pin of fresh.connectors[0]?.pins ?? []) pin.noted = pin.number === '2';
    open.view = job({ circuit: fresh });
    await settled();
    expect(count('[data-name=pin-example]')).toBe(1);
    expect(document.querySelectorAll('[data-name=pin]')[1]?.getAttribute('aria-label')).toContain('noted');
  });

  it('has a draft of its own', async () => {
    show(Pins, props);
    await settled();
    for (const [place, words] of ['one', 'two'].entries()) {
      document.querySelectorAll<HTMLElement>('[data-name=pin]')[place]?.click();
      await settled();
      await type('pin_function', words);
    }
    document.querySelectorAll<HTMLElement>('[data-name=pin]')[0]?.click();
    await settled();
    expect(one<HTMLInputElement>('[name=pin_function]').value).toBe('one');
  });
});
