// tests/browser/access.mjs - whether a page is open to everyone, and fits.
// SPDX-License-Identifier: Apache-2.0
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { equal } from './harness.mjs';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

// `fetches`: axe may fetch the style sheets, which a page opened from a disk forbids.
export async function nobodyIsShutOut(page, { fetches = true } = {}) {
  await page.evaluate(() => scrollTo(0, 0)); // else bars that stick to the window hide half a link
  await page.evaluate(axe);
  const found = await page.evaluate((preload) =>
    globalThis.axe.run(document, {
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'], resultTypes: ['violations'], preload,
    }), fetches);
  const grave = found.violations.filter((one) => ['serious', 'critical'].includes(one.impact));
  if (grave.length === 0) return;
  throw new Error(grave.map((one) => {
    const nodes = one.nodes.slice(0, 4).map((node) => `${node.html.slice(0, 160)}\n    ${(node.failureSummary ?? '').split('\n').slice(1, 3).join(' ')}`);
    return `${one.id}: ${one.help}\n  ${nodes.join('\n  ')}`;
  }).join('\n'));
}

export async function fits(page) {
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
