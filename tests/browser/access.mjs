// axe-core finds nothing serious on any screen, by day and by night, wide and narrow.
// SPDX-License-Identifier: Apache-2.0
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { NARROW, WIDE, open, reads, seen, test } from './harness.mjs';
import { SCREENS, settled } from './screens.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

async function examine(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(() =>
    globalThis.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }));
  const grave = found.violations.filter((one) => ['serious', 'critical'].includes(one.impact));
  if (grave.length) {
    throw new Error(grave.map((one) => `${one.id}: ${one.help}\n  ${one.nodes.slice(0, 4).map((node) => `${node.html.slice(0, 160)}\n    ${(node.failureSummary ?? '').split('\n').slice(1, 3).join(' ')}`).join('\n  ')}`).join('\n'));
  }
}

for (const dark of [false, true]) {
  for (const { name, address, heading } of SCREENS) {
    test(`Nothing on the page ${name} shuts anyone out, ${dark ? 'by night' : 'by day'}`, async (world) => {
      const page = await open(world, address, { size: dark ? NARROW : WIDE, dark });
      await reads(page.getByRole('heading', { level: 1 }), heading);
      await settled(page);
      await examine(page);
    });
  }
  test(`Nothing on the opened sheets shuts anyone out, ${dark ? 'by night' : 'by day'}`, async (world) => {
    const page = await open(world, '/bench/p-0041', { dark });
    await page.locator('#look-rim').click();
    await seen(page.getByRole('dialog'));
    await settled(page);
    await examine(page);
    await page.keyboard.press('Escape');
    for (const button of await page.getByRole('button', { name: /^Why/ }).all()) await button.click();
    for (const summary of await page.locator('summary').all()) await summary.click();
    await examine(page);
    await page.keyboard.press('/');
    await page.getByRole('dialog').getByRole('combobox').fill('fern');
    await seen(page.getByRole('dialog').getByRole('option').first());
    await examine(page);
  });
}
