// The first start, in both themes and both languages.
import test from "node:test";

import { keepPicture, withPhone } from "../phone.mjs";
import { assertReadable, assertTouchable } from "../reach.mjs";

for (const theme of ["light", "dark"]) {
  for (const language of ["en", "es"]) {
    test(`the first start is readable and touchable: ${theme}, ${language}`, async () => {
      await withPhone(
        async (page) => {
          await page.locator("h1").first().waitFor();
          await keepPicture(page, `first-start-${theme}-${language}`);
          await assertReadable(page);
          await assertTouchable(page);
        },
        { theme, language },
      );
    });
  }
}
