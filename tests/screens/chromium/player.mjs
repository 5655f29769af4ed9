// Plays a job file (the format of `testimeter play`) through the screens, as a finger would.
import { settled } from './look.mjs';
import { Hands } from './hands.mjs';
import { recipients, writePapers } from './papers.mjs';
import { keepReading, toCamera } from './reading.mjs';

/** Where a photo is taken that no later step names: station, form, part of the screen. */
const FORMS = {
  arrival: ['intake', 'intake', '.hand'],
  identity: ['intake', 'intake', 'main'],
  pin_out: ['pins', 'pins', '.hand'],
  reading: ['reading/free', 'reading', '.hand'],
  part: ['part', 'part', 'main'],
  programming: ['programming', 'programmed', 'main'],
  supplier_paper: ['programming', 'programming', 'main'],
  message: ['approval', 'approval', 'main'],
  repair: ['proof', 'proof', 'main'],
};

/** One job on one page. */
export class Player extends Hands {
  /** Opens a new job; its id stands in the address. */
  async open() {
    await this.press('take-in');
    await this.page.waitForFunction(() => /#\/job\/[^/]+\/intake/.test(location.hash));
    this.job = await this.page.evaluate(() => decodeURIComponent(location.hash.split('/')[2]));
  }

  /** Plays one step; throws when the screen does not do what the step says. */
  async play(step) {
    const play = this[step.do];
    if (!play) throw new Error(`no screen plays the step ${step.do}`);
    await play.call(this, step.with, step);
  }

  async intake_keep(entry) {
    await this.goTo('intake');
    for (const [field, value] of Object.entries(entry)) {
      if (field === 'odometer_unit') await this.pick('odometer_unit', value);
      else await this.fill(field, value);
    }
    await settled(this.page);
    await this.once('intake');
  }

  /** A photo that a later step names is taken there, in that step's form; the others where their purpose belongs. */
  async photo_keep({ file, purpose }) {
    if (this.named.has(file)) return;
    const [station, form, place] = FORMS[purpose];
    await this.goTo(station);
    if (purpose === 'reading') await toCamera(this);
    const records = await this.page.evaluate(() => document.querySelectorAll('main img').length);
    await this.upload(form, [file], place);
    if (station !== 'intake') return;
    await this.page.waitForFunction(
      (before) => document.querySelectorAll('main img').length > before,
      records,
    );
  }

  async meter_choose(entry) {
    await this.goTo('circuit');
    await this.page.locator('[data-name=meter] [data-value=other]').click();
    await this.fill('meter_name', entry.name);
    await this.fill('meter_input', entry.volts_input_megohms);
    await this.fill('meter_low', entry.low_impedance_kilohms);
    await this.fill('meter_accuracy', entry.accuracy_percent);
    await this.fill('meter_counts', entry.accuracy_counts);
    await this.press('use-meter');
    await this.page.locator('[data-name=use-meter]').waitFor({ state: 'detached' });
  }

  async circuit_choose(circuit) {
    await this.goTo('circuit');
    await this.pick('circuit', circuit);
    await this.page.locator('svg[role=img]').first().waitFor();
    await this.once('circuit');
  }

  async pin_keep(entry) {
    await this.goTo('pins');
    const index = await this.page
      .locator('[data-name=pin]')
      .evaluateAll(
        (pins, number) => pins.findIndex((pin) => pin.getAttribute('aria-label').includes(` ${number},`)),
        entry.pin,
      );
    await this.page.locator('[data-name=pin]').nth(index).click();
    await this.fill('pin_function', entry.function);
    await this.fill('pin_colour', entry.colour);
    await this.fill('pin_note', entry.note);
    await this.upload('pin', entry.photos);
    await this.press('keep-pin');
    await this.kept();
    await this.once('pins');
  }

  /** Cautions are read where they come up: before the test that needs them. */
  async caution_acknowledge() {}

  async test_unreachable() {
    await this.goTo('reasoning');
    await this.press('cannot-reach');
    await this.kept();
  }

  async reading_keep(entry) {
    await keepReading(this, entry);
    await this.goTo('reasoning');
    await this.once('reasoning');
  }

  async reading_correct(entry) {
    await this.goTo('readings');
    await this.once('readings');
    const number = entry.corrects.replace('#', '');
    await this.page.locator(`[data-name=correct-${number}]`).click();
    await this.page.locator('[data-slot=value]').click();
    await this.fill('value', entry.reading.value);
    await this.page.locator('[data-slot=reason]').click();
    await this.fill('reason', entry.reason);
    await this.once('correction');
    await this.press('keep-reading');
    await this.page.waitForFunction(() => location.hash.endsWith('/readings'));
  }

  async finding_keep(entry, step) {
    await this.goTo('finding');
    const cause = entry.cause || 'not_proven';
    if ((await this.page.locator(`[data-name=cause] [data-value="${cause}"]`).count()) === 0) {
      await this.press('more-causes');
    }
    await this.pick('cause', cause);
    await this.fill('finding_words', entry.words);
    await this.once('finding');
    const before = await this.page.locator('[data-name=finding]').count();
    await this.press('keep-finding');
    await this.once('finding-will-say');
    await this.page.waitForTimeout(500);
    await this.press('confirm-finding');
    if (step.refused) return this.refused('finding-refused');
    await this.page.locator('[data-name=finding]').nth(before).waitFor();
  }

  async estimate_keep(entry) {
    await this.goTo('estimate');
    await this.lines(entry.lines);
    await this.once('estimate');
    const before = await this.page.locator('[data-name=estimate]').count();
    await this.press('keep-estimate');
    await this.page.locator('[data-name=estimate]').nth(before).waitFor();
  }

  async approval_keep(entry) {
    await this.goTo('approval');
    await this.fill('approval_name', entry.name);
    await this.pick('channel', entry.channel);
    await this.fill('approval_words', entry.words);
    await this.pick('old_parts', entry.old_parts);
    if (entry.channel === 'phone') await this.fill('number_called', entry.number_called ?? '');
    if (entry.channel === 'in_person') await this.sign();
    await this.once('approval');
    const before = await this.page.locator('[data-name=approval]').count();
    await this.press('keep-approval');
    await this.page.locator('[data-name=approval]').nth(before).waitFor();
    await this.once('approved');
  }

  async approval_request(entry) {
    await this.goTo('approval');
    await this.pick('request_channel', entry.channel);
    await this.fill('request_text', entry.text);
    await this.fill('request_to', entry.to);
    await this.once('request');
    await this.press('keep-request');
    await this.page.locator('[data-name=request-kept]').waitFor();
  }

  async payment_keep(entry) {
    await this.goTo('payments');
    await this.pick('way', entry.way);
    await this.fill('amount', entry.amount);
    await this.pick('means', entry.means);
    await this.fill('reference', entry.reference);
    await this.fill('note', entry.note);
    await this.once('payment');
    const before = await this.page.locator('[data-name=payment]').count();
    await this.press('keep-payment');
    await this.page.locator('[data-name=payment]').nth(before).waitFor();
    await this.once('paid');
  }

  async supplier_step_keep(entry) {
    await this.goTo('suppliers');
    await this.pick('supplier_step', entry.step);
    await this.fill('supplier', entry.supplier);
    await this.page.locator('[name=supplier_what]').selectOption(entry.what);
    await this.fill('supplier_description', entry.description);
    await this.fill('supplier_amount', entry.amount);
    if (entry.means) await this.pick('supplier_means', entry.means);
    await this.fill('supplier_reference', entry.reference);
    if (entry.due) await this.fill('supplier_due', entry.due);
    await this.once('supplier');
    await this.press('keep-supplier-step');
    await this.page.locator('[data-name=supplier] li', { hasText: entry.description }).first().waitFor();
    await this.once('suppliers');
  }

  async part_receive(entry) {
    await this.goTo('part');
    for (const field of [
      'supplier',
      'description',
      'part_number',
      'price',
      'core_charge',
      'return_terms',
      'warranty',
    ]) {
      await this.fill(field, entry[field]);
    }
    await this.pick('condition', entry.condition);
    await this.upload('part', entry.photos);
    await this.once('part');
    const before = await this.page.locator('[data-name=part]').count();
    await this.press('keep-part');
    await this.page.locator('[data-name=part]').nth(before).waitFor();
  }

  async programming_decide(entry) {
    await this.goTo('programming');
    await this.page.locator(`label[data-value=${entry.route}]`).click();
    for (const field of ['provider', 'quoted', 'appointment', 'reason']) await this.fill(field, entry[field]);
    await this.once('programming');
    await this.press('keep-programming');
    await this.page.locator('[data-name=decision]').waitFor();
  }

  async programming_report(entry) {
    await this.goTo('programming');
    await this.pick('outcome', entry.outcome);
    for (const field of ['supply_volts', 'software_before', 'software_after', 'billed'])
      await this.fill(field, entry[field]);
    await this.upload('programmed', entry.photos);
    await this.press('keep-outcome');
    await this.page.locator('[data-name=outcome]').waitFor();
    await this.once('programmed');
  }

  async proof_keep(entry) {
    await this.goTo('proof');
    for (const side of ['before', 'after']) {
      const number = entry[side].replace('#', '');
      await this.page
        .locator(`[data-name=${side}] label`)
        .filter({ hasText: new RegExp(`^\\s*${number}:`) })
        .click();
    }
    await this.fill('note', entry.note);
    await this.once('proof');
    await this.press('keep-proof');
    await this.kept();
  }

  async invoice_keep(entry, step) {
    await this.goTo('invoice');
    await this.lines(entry.lines);
    await this.press('keep-invoice');
    if (step.refused) return this.refused('invoice-refused');
    await this.page.locator('[data-name=invoice]').waitFor();
    await this.once('invoice');
  }

  async hand_over(entry) {
    await this.goTo('hand-over');
    await this.fill('warranty', entry.warranty);
    await this.fill('warranty_months', entry.warranty_months ?? '');
    await this.fill('warranty_distance', entry.warranty_distance ?? '');
    await this.fill('old_parts', entry.old_parts);
    await this.upload('hand_over', entry.photos);
    await this.once('hand-over');
    await this.press('keep-hand-over');
    await this.page.locator('[data-name=handed-over]').waitFor();
  }

  async expect(wanted) {
    await this.goTo('reasoning');
    const { module_may_be_called: called, leading_cause: leading } = wanted;
    const gate = await this.page.locator('[data-name=module-gate]').getAttribute('data-open');
    if (called !== undefined && gate !== String(called))
      throw new Error(`the module's gate reads ${gate}, not ${called}`);
    const first = await this.page.locator('[data-name=causes] li').first().getAttribute('data-cause');
    if (wanted.stage) await this.stage(wanted.stage);
    if (leading && first !== leading) throw new Error(`the leading cause is ${first}, not ${leading}`);
  }

  async stage(wanted) {
    await this.goTo('');
    const shown = await this.page.locator('[data-stage]').getAttribute('data-stage');
    if (shown !== wanted) throw new Error(`the stage is ${shown}, not ${wanted}`);
  }

  /** Report and packet; the packet's verification has to be good. */
  async papers() {
    await this.goTo('papers');
    await recipients(this);
    return writePapers(this);
  }

  async lines(lines) {
    await settled(this.page);
    for (let left = await this.page.locator('[data-name=line]').count(); left > 0; left -= 1) {
      await this.page.locator('[data-name=line] button').last().click();
    }
    for (const [place, line] of lines.entries()) await this.line(place + 1, line);
    await this.page.locator('[data-name=total]').first().waitFor();
  }

  async line(number, line) {
    await this.press('line-add');
    await this.press(`add-${line.kind}`);
    await this.fill(`description-${number}`, line.description);
    await this.fill(`quantity-${number}`, line.quantity);
    await this.fill(`price-${number}`, line.unit_price);
    if (line.kind === 'part') {
      await this.pick(`condition-${number}`, line.condition);
      await this.fill(`part-number-${number}`, line.part_number);
    }
    if (line.kind === 'sublet') await this.fill(`provider-${number}`, line.provider);
    const taxed = this.page.locator(`input[name=taxed-${number}]`);
    if ((await taxed.isChecked()) !== line.taxed) await taxed.click();
  }

  async sign() {
    const pad = this.page.locator('[data-name=signature]');
    await pad.scrollIntoViewIfNeeded();
    const box = await pad.boundingBox();
    const { mouse } = this.page;
    await mouse.move(box.x + 30, box.y + box.height * 0.6);
    await mouse.down();
    for (let step = 1; step <= 24; step += 1) {
      await mouse.move(box.x + 30 + step * 10, box.y + box.height * (0.55 + 0.25 * Math.sin(step)));
    }
    await mouse.up();
    await settled(this.page);
  }
}
