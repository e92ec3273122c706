// Every screen, wide and narrow, by day and by night: open to everyone, fitting, and pictured in tests/out/.
//   axe-core runs where the layouts and the colours differ most: wide by day and narrow by night.
// SPDX-License-Identifier: Apache-2.0
import { statSync } from 'node:fs';
import { join } from 'node:path';
import { NARROW, equal, open, out, reads, seen, test } from './harness.mjs';
import { fits, nobodyIsShutOut } from './access.mjs';
import { SCREENS, settled } from './screens.mjs';

async function picture(page, name) {
  const path = join(out, `${name}.png`);
  await page.screenshot({ path, fullPage: (await page.evaluate(() => document.body.scrollHeight)) < 6000 });
  if (statSync(path).size < 8000) throw new Error(`${path} is all but blank`);
}

/** Scrolls through once, so that drawings which wait until they are near are there. */
async function seenThrough(page) {
  await page.evaluate(async () => {
    for (let y = 0; y < Math.min(document.body.scrollHeight, 4000); y += 700) {
      scrollTo(0, y);
      await new Promise((go) => requestAnimationFrame(go));
    }
    scrollTo(0, 0);
  });
  await settled(page);
}

/** The facts of every screen in a window of `size`, which is called `width`: 'wide' or 'narrow'. */
export function everywhere(size, width) {
  for (const { name, address, heading } of SCREENS) {
    test(`The page ${name}, ${width}, fits, shuts nobody out and is pictured by day and by night`, async (world) => {
      const page = await open(world, address, { size, touch: size === NARROW });
      await reads(page.getByRole('heading', { level: 1 }), heading);
      await settled(page);
      equal(await page.getByRole('heading', { level: 1 }).count(), 1, 'headings of the first level');
      await seenThrough(page);
      await fits(page);
      if (width === 'wide') await nobodyIsShutOut(page);
      await picture(page, `${name}-${width}-light`);
      await page.emulateMedia({ colorScheme: 'dark' });
      await fits(page);
      if (width === 'narrow') await nobodyIsShutOut(page);
      await picture(page, `${name}-${width}-dark`);
    });
  }
  for (const dark of [false, true]) {
    const when = dark ? 'night' : 'day';
    const light = dark ? 'dark' : 'light';
    const examined = (width === 'wide') !== dark;
    test(`What opens over the page, ${width} by ${when}, shuts nobody out`, async (world) => {
      const page = await open(world, '/bench/p-0041', { size, dark });
      await page.locator('#look-rim').click();
      await seen(page.getByRole('dialog'));
      await settled(page);
      await page.screenshot({ path: join(out, `sheet-${width}-${light}.png`) });
      if (examined) await nobodyIsShutOut(page);
      await page.keyboard.press('Escape');
      if (examined) {
        for (const button of await page.getByRole('button', { name: /^Why/ }).all()) await button.click();
        for (const summary of await page.locator('main summary').all()) await summary.click();
        await nobodyIsShutOut(page);
        await page.evaluate(() => scrollTo(0, 0));
        await page.screenshot({ path: join(out, `why-${width}-${light}.png`), fullPage: true });
      }
      await page.keyboard.press('/');
      await page.getByRole('dialog').getByRole('combobox').fill('fern');
      await seen(page.getByRole('dialog').getByRole('option'));
      await settled(page);
      await page.screenshot({ path: join(out, `search-${width}-${light}.png`) });
      if (examined) await nobodyIsShutOut(page);
    });
  }
}
