// Every screen, wide and narrow, by day and by night: open to everyone, fitting, and pictured in tests/out/.
//   axe-core runs where the layouts and the colours differ most: wide by day and narrow by night.
// SPDX-License-Identifier: Apache-2.0
import { createRequire } from 'node:module';
import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { NARROW, WIDE, equal, open, out, reads, seen, test } from './harness.mjs';
import { SCREENS, settled } from './screens.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

async function nobodyIsShutOut(page) {
  await page.evaluate(() => scrollTo(0, 0)); // else bars that stick to the window hide half a link
  await page.evaluate(axe);
  const found = await page.evaluate(() =>
    globalThis.axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'], resultTypes: ['violations'],
    }));
  const grave = found.violations.filter((one) => ['serious', 'critical'].includes(one.impact));
  if (grave.length === 0) return;
  throw new Error(grave.map((one) => {
    const nodes = one.nodes.slice(0, 4).map((node) => `${node.html.slice(0, 160)}\n    ${(node.failureSummary ?? '').split('\n').slice(1, 3).join(' ')}`);
    return `${one.id}: ${one.help}\n  ${nodes.join('\n  ')}`;
  }).join('\n'));
}

async function fits(page) {
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  if (wide > 0) throw new Error(`it is ${wide} px too wide`);
  // WCAG 2.2 asks for 24 px, which axe checks; our own measure for buttons and fields is 44 px.
  const small = await page.evaluate(() =>
    [...document.querySelectorAll('button, select, input:not([type=checkbox], [type=radio], [type=file]), .button, nav a')]
      .filter((one) => one.checkVisibility() && !one.closest('.unseen'))
      .map((one) => ({ what: one.outerHTML.slice(0, 90), box: one.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0 && (box.height < 43.5 || box.width < 43.5))
      .map(({ what, box }) => `${Math.round(box.width)} x ${Math.round(box.height)}: ${what}`));
  equal(small, [], 'small targets');
}

async function picture(page, name) {
  const path = join(out, `${name}.png`);
  // Scrolls through once, so that drawings which wait until they are near are there.
  await page.evaluate(async () => {
    for (let y = 0; y < Math.min(document.body.scrollHeight, 4000); y += 700) {
      scrollTo(0, y);
      await new Promise((go) => requestAnimationFrame(go));
    }
    scrollTo(0, 0);
  });
  await settled(page);
  await page.screenshot({ path, fullPage: (await page.evaluate(() => document.body.scrollHeight)) < 6000 });
  if (statSync(path).size < 8000) throw new Error(`${path} is all but blank`);
}

for (const [size, width] of [[WIDE, 'wide'], [NARROW, 'narrow']]) {
  for (const dark of [false, true]) {
    const when = dark ? 'night' : 'day';
    const light = dark ? 'dark' : 'light';
    const examined = (width === 'wide') !== dark;
    for (const { name, address, heading } of SCREENS) {
      test(`The page ${name}, ${width} by ${when}, fits and ${examined ? 'shuts nobody out' : 'is pictured'}`, async (world) => {
        const page = await open(world, address, { size, dark, touch: size === NARROW });
        await reads(page.getByRole('heading', { level: 1 }), heading);
        await settled(page);
        equal(await page.getByRole('heading', { level: 1 }).count(), 1, 'headings of the first level');
        await fits(page);
        if (examined) await nobodyIsShutOut(page);
        await picture(page, `${name}-${width}-${light}`);
      });
    }
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
