// The first start: an invented shop, the device's key, the empty list.

/** Answers the first start and goes on to the jobs. */
export async function firstStart(page, looks) {
  await page.locator('[name=shop_name]').waitFor();
  await looks.at(page, 'first-start');
  await restoreInstead(page, looks);
  await page.locator('[name=shop_name]').fill('Norrin Lane Garage');
  // Nothing was left or pressed: what is being typed is kept all the same.
  await page.reload();
  await page.locator('[name=shop_name]').waitFor();
  const typed = await page.locator('[name=shop_name]').inputValue();
  if (typed !== 'Norrin Lane Garage') throw new Error(`after a reload the shop is called "${typed}"`);
  await page.locator('[name=technician]').fill('Ada Quill');
  await page.locator('[name=region]').selectOption({ index: 1 });
  await page.locator('[name=registration]').fill('DEMO-0042');
  await page.locator('[name=labour_rate]').fill('120');
  await page.locator('[name=tax_percent]').fill('8.25');
  await looks.whole(page, 'first-start');
  await page.locator('[data-name=set-up]').click();
  await page.locator('[data-name=fingerprint-words]').waitFor();
  await looks.at(page, 'device');
  await page.locator('[data-name=to-jobs]').click();
  await page.locator('[data-name=take-in]').waitFor();
  await looks.at(page, 'jobs-empty');
}

/** The other way to begin: a look at it, what it warns of, and back. */
async function restoreInstead(page, looks) {
  await page.locator('[data-name=to-restore]').click();
  await page.locator('[data-name=restore-now]').waitFor();
  for (const device of ['same_device', 'second_device']) {
    await page.locator(`[data-name=restore_as] [data-value=${device}]`).click();
    await looks.at(page, `restore-${device}`);
  }
  await looks.whole(page, 'restore');
  await page.locator('[name=restore_path]').fill('/nowhere/backup.tar.age');
  await page.locator('[name=restore_passphrase]').fill('twelve or more');
  await page.locator('[data-name=restore-now]').click();
  await page.locator('[role=alert]').waitFor();
  await looks.at(page, 'restore-refused');
  await page.locator('header a').click();
  await page.locator('[name=shop_name]').waitFor();
}
