// A picture of every screen, wide and narrow, by day and by night, in tests/out/, for people to look at.
// SPDX-License-Identifier: Apache-2.0
import { statSync } from 'node:fs';
import { join } from 'node:path';
import { NARROW, WIDE, open, out, reads, seen, test } from './harness.mjs';
import { SCREENS, settled } from './screens.mjs';

async function picture(page, name) {
  const path = join(out, `${name}.png`);
  // Scrolls through once, so that drawings which wait until they are near are there.
  await page.evaluate(async () => {
    for (let y = 0; y < Math.min(document.body.scrollHeight, 6000); y += 500) {
      scrollTo(0, y);
      await new Promise((go) => setTimeout(go, 30));
    }
    scrollTo(0, 0);
  });
  await settled(page);
  await page.screenshot({ path, fullPage: (await page.evaluate(() => document.body.scrollHeight)) < 6000 });
  if (statSync(path).size < 8000) throw new Error(`${path} is all but blank`);
}

for (const [size, width] of [[WIDE, 'wide'], [NARROW, 'narrow']]) {
  for (const dark of [false, true]) {
    const light = dark ? 'dark' : 'light';
    test(`Every screen is pictured, ${width} and ${light}`, async (world) => {
      for (const { name, address, heading } of SCREENS) {
        const page = await open(world, address, { size, dark });
        await reads(page.getByRole('heading', { level: 1 }), heading);
        await settled(page);
        await picture(page, `${name}-${width}-${light}`);
        await page.close();
      }
      const bench = await open(world, '/bench/p-0041', { size, dark });
      await bench.locator('#look-rim').click();
      await seen(bench.getByRole('dialog'));
      await settled(bench);
      await bench.screenshot({ path: join(out, `sheet-${width}-${light}.png`) });
      await bench.keyboard.press('Escape');
      await bench.keyboard.press('/');
      await bench.getByRole('dialog').getByRole('combobox').fill('fern');
      await seen(bench.getByRole('dialog').getByRole('option').first());
      await settled(bench);
      await bench.screenshot({ path: join(out, `search-${width}-${light}.png`) });
    });
  }
}
