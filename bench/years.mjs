// bench/years.mjs - how long the Years page takes to draw 5,000 bars in Chromium, in the middle of seven visits: as a
//   person waits for it, from the last byte of the answer until the browser has painted, and in processor time of the
//   page's thread from the answer on, which other programs on the machine lengthen less. Imitates the chronology of a
//   large cupboard: 50 shapes of 100 treatments, every third bar with soft ends, a dated use on every fifth.
//   usage: bench/years (see there); FOOTRING_BIN names the program. Prints lines for bench/RESULTS.md.
// SPDX-License-Identifier: Apache-2.0
import { open, startBrowser, startProgram } from '../tests/browser/harness.mjs';

const BARS = 5000;
const VISITS = 7;
const LIMIT = 200; // ms

function answer() {
  let state = 7;
  const next = (most) => (state = (state * 48271) % 2147483647) % most;
  const source = { id: 's-1', title: 'Sheet of ware', trust: 0.9 };
  const lanes = [];
  const ticks = [];
  for (let made = 0; made < BARS; made += 1) {
    const shape = `shape-${Math.floor(made / 100)}`;
    if (made % 100 === 0) {
      lanes.push({ shape: { id: shape, name: `Shape ${made / 100}` }, maker: { id: 'works', name: 'The Works' }, span: { soft_first: 1880, first: 1880, last: 1979, soft_last: 1979 }, words: '1880 to 1979', sources: [source], bars: [] });
    }
    const first = 1880 + next(80);
    const last = first + 2 + next(20);
    const soft = made % 3 === 0 ? 3 : 0;
    lanes.at(-1).bars.push({
      treatment: { id: `t-${made}`, number: String(made), name: `Border ${made}` }, grade: ['first', 'second', 'any'][made % 3],
      glaze: { id: 'oat', name: 'Oat', colour: ['#e4dccb', '#cdd5bb', '#d9722f', '#69717e'][made % 4] }, places: ['rim'], edtf: `${first}/${last}`,
      words: `${first} to ${last}`, stated: true, span: { soft_first: first - soft, first, last, soft_last: last + soft }, sources: [source],
    });
    if (made % 5 === 0) {
      ticks.push({ date: String(first), words: String(first), span: { soft_first: first, first, last: first, soft_last: first }, kind: 'catalogue', subject: { table: 'treatment', id: `t-${made}`, name: String(made) }, lane: shape, treatment: `t-${made}`, source });
    }
  }
  return { title: `${BARS} treatments`, of: { table: 'cupboard', id: '', name: 'The cupboard', span: null, words: '', sources: [] }, first: 1877, last: 1985, lanes, ticks, glazes: [], numbers: [], pieces: [], notes: [] };
}

const middle = (numbers) => [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)];

const program = await startProgram();
const browser = await startBrowser();
const world = { address: program.address, browser, contexts: [], faults: [] };
const body = JSON.stringify(answer());
const drawn = [];
const worked = [];
const turned = [];
const taken = [];
for (let visit = 0; visit < VISITS; visit += 1) {
  const page = await open(world, '/help');
  const meter = await page.context().newCDPSession(page);
  await meter.send('Performance.enable', { timeDomain: 'threadTicks' });
  const busy = async () => (await meter.send('Performance.getMetrics')).metrics.find(({ name }) => name === 'TaskDuration').value * 1000;
  let before = 0;
  await page.route('**/api/years?*', async (route) => {
    before = await busy(); // the page that is left has gone by now
    await route.fulfill({ body, contentType: 'application/json' });
  });
  await page.route('**/api/glyph/**', (route) => route.fulfill({ status: 404, json: { problems: [] } }));
  await page.addInitScript(() => {
    // a frame after the first bar is there, the frame has been painted
    window.whenPainted = new Promise((done) => {
      new MutationObserver((_, watch) => {
        if (!document.querySelector('[data-mark^="b-"]')) return;
        watch.disconnect();
        requestAnimationFrame(() => setTimeout(() => done((window.painted = performance.now()))));
      }).observe(document, { childList: true, subtree: true });
    });
  });
  await page.goto('/years');
  await page.waitForLoadState('networkidle');
  // one question that is answered when all is painted: asking again and again would be measured as well
  await page.evaluate(() => {
    const link = Object.assign(document.createElement('a'), { href: '/years?of=cupboard' });
    document.body.append(link);
    link.click();
    link.remove();
    return window.whenPainted;
  });
  worked.push((await busy()) - before);
  drawn.push(await page.evaluate(() => window.painted - performance.getEntriesByType('resource').find(({ name }) => name.includes('/api/years')).responseEnd));
  await page.waitForLoadState('networkidle');
  turned.push(await page.evaluate(async () => {
    const field = document.querySelector('[role="listbox"]');
    const began = performance.now();
    field.dispatchEvent(new KeyboardEvent('keydown', { key: '+', bubbles: true }));
    await new Promise((go) => requestAnimationFrame(() => setTimeout(go)));
    return performance.now() - began;
  }));
  const began = Date.now();
  const [download] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Take as SVG' }).click()]);
  await download.path();
  taken.push(Date.now() - began);
  await page.context().close();
}
await browser.close();
await program.stop();
console.log('| what | measured | limit | ratio | target |\n| --- | --- | --- | --- | --- |');
console.log(`| Years: ${BARS.toLocaleString('en-GB')} bars, answer to paint | ${middle(drawn).toFixed(0)} ms | ${LIMIT} ms | ${(middle(drawn) / LIMIT).toFixed(2)} | at most 1 |`);
console.log(`| Years: ${BARS.toLocaleString('en-GB')} bars, the same in processor time | ${middle(worked).toFixed(0)} ms | ${LIMIT} ms | ${(middle(worked) / LIMIT).toFixed(2)} | at most 1 |`);
console.log(`| Years: ${BARS.toLocaleString('en-GB')} bars, key to next frame | ${middle(turned).toFixed(0)} ms | | | |`);
console.log(`| Years: ${BARS.toLocaleString('en-GB')} bars, all of them as an SVG file | ${middle(taken).toFixed(0)} ms | | | |`);
if (world.faults.length) throw new Error(world.faults.join('; '));
