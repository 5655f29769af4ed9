// What a hand does on a screen: go, fill, pick, press, take a photo, look.
import { access } from 'node:fs/promises';
import { join } from 'node:path';
import { settled } from './look.mjs';

/** One page with the job that is on it. */
export class Hands {
  constructor(page, photoFolder, script, looks) {
    this.page = page;
    this.photoFolder = photoFolder;
    this.looks = looks;
    this.seen = new Set();
    this.named = new Set(
      script.steps.flatMap((step) => step.with?.photos ?? step.with?.reading?.photos ?? []),
    );
  }

  async goTo(station) {
    await this.page.evaluate(
      (hash) => (location.hash = hash),
      `#/job/${encodeURIComponent(this.job)}/${station}`,
    );
    await settled(this.page);
  }

  async fill(name, value) {
    const field = this.page.locator(`[name="${name}"]`);
    await field.fill(value);
    await field.blur();
  }

  async pick(name, value) {
    await this.page.locator(`[data-name="${name}"] [data-value="${value}"]`).click();
  }

  async press(name) {
    await this.page.locator(`[data-name=${name}]`).click();
  }

  async upload(form, files, place = '#app') {
    for (const file of files ?? []) {
      const picture = this.photo(file);
      await access(picture);
      const answered = this.page.waitForResponse((answer) => answer.url().endsWith('/invoke/photo_keep'));
      answered.catch(() => {});
      await this.page.locator(`${place} input[name=${form}-file]`).setInputFiles(picture);
      if (!(await answered).ok()) throw new Error(`the photo ${file} was refused`);
    }
    await settled(this.page);
  }

  /** Waits until the last thing pressed is kept; a refusal on the screen is an error. */
  async kept() {
    await settled(this.page);
    const alert = this.page.locator('[role=alert]');
    if (await alert.count()) throw new Error(`refused: ${await alert.first().innerText()}`);
  }

  /** The screen has to say why it refuses, in words. */
  async refused(name) {
    await this.page.locator('[role=alert]').first().waitFor();
    await this.once(name);
  }

  /** Looks at a screen the first time it is come to. */
  async once(name) {
    if (this.seen.has(name)) return;
    this.seen.add(name);
    await this.looks.at(this.page, name);
    await this.looks.whole(this.page, name);
  }

  photo(file) {
    return join(this.photoFolder, file);
  }
}
