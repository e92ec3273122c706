// The chronology of a decoration: seen, walked by keyboard, zoomed by every hand, taken away as a picture.
// SPDX-License-Identifier: Apache-2.0
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { NARROW, equal, gone, hold, open, reads, seen, test } from './harness.mjs';

const FERN = '/years?of=ornament:fern-pair';
const chart = (page) => page.getByRole('listbox', { name: /^Years of / });
const window = async (page) => [Number(await chart(page).getAttribute('data-from')), Number(await chart(page).getAttribute('data-to'))];
const width = async (page) => ((at) => at[1] - at[0])(await window(page));
const drawn = async (page) => {
  await seen(chart(page));
  await hold('bars are drawn', async () => (await chart(page).getByRole('option').count()) > 10);
};
const near = (got, wanted, what) => {
  if (Math.abs(got - wanted) > 0.05) throw new Error(`${what}: got ${got}, wanted ${wanted}`);
};
const active = (page) => page.evaluate(() => {
  const id = document.querySelector('[role="listbox"]')?.getAttribute('aria-activedescendant');
  return id ? (document.getElementById(id)?.getAttribute('aria-label') ?? `${id} is not there`) : '';
});

test('A decoration is chosen by its drawing and its chronology shows shapes, bars and dated uses', async (world) => {
  const page = await open(world, '/years');
  await reads(page.getByRole('heading', { level: 1 }), 'Years');
  await page.getByLabel(/^Find an ornament/).fill('fern p');
  await hold('others are gone', async () => (await page.getByRole('link', { name: /^Fern ladder/ }).count()) === 0);
  await page.getByRole('list', { name: 'Ornaments' }).getByRole('link', { name: /^Fern pair/ }).click();
  await reads(page.getByRole('heading', { level: 1 }), /^Fern pair/);
  await drawn(page);
  await seen(chart(page).getByRole('option', { name: /^Harrow, Kettlewharf Pottery, made / }));
  equal((await chart(page).getByRole('option', { name: /catalogue, 19/ }).count()) > 0, true, 'dated uses are drawn');
  await reads(page.getByText(/^Drawn by Footring from/), /every source of the demo pack are invented/);
});

test('On paper the whole chronology is there, though only rows near the window are drawn on the screen', async (world) => {
  const page = await open(world, FERN);
  await drawn(page);
  const last = (await chart(page).getAttribute('data-rows')) ?? '';
  equal((await chart(page).locator('svg > g[aria-hidden] text').count()) < Number(last), true, 'the screen draws a part');
  const said = execFileSync('pdftotext', ['-', '-'], { input: await page.pdf(), encoding: 'utf8' });
  for (const lane of ['Osier', 'Harrow', 'Winnow', 'Fern pair, late, second']) {
    if (!said.includes(lane)) throw new Error(`${lane} is not on the paper:\n${said.slice(0, 2000)}`);
  }
});

test('Every mark is reached by arrow keys and says where it comes from', async (world) => {
  const page = await open(world, FERN);
  await drawn(page);
  await chart(page).focus();
  const said = [];
  for (let i = 0; i < 14; i += 1) {
    await page.keyboard.press('ArrowDown');
    said.push(await active(page));
  }
  equal(new Set(said).size, said.length, 'marks walked through, each another');
  equal(said.every((one) => one && !one.endsWith('is not there')), true, `all of them drawn: ${said}`);
  await page.keyboard.press('ArrowUp');
  await hold('up goes back', async () => (await active(page)) === said[said.length - 2]);
  await page.keyboard.press('PageDown');
  await hold('page down goes to another lane', async () => !said.includes(await active(page)));
  // on to a dated use, and what it leans on
  for (let i = 0; i < 60 && !/, 19\d\d, .*\(invented\)$/.test(await active(page)); i += 1) await page.keyboard.press('ArrowDown');
  const use = await active(page);
  const source = / ?([^,]*, )?([^,]+ \(invented\))$/.exec(use)?.[2] ?? use;
  await page.keyboard.press('Enter');
  const sheet = page.getByRole('dialog');
  await seen(sheet.getByRole('link', { name: source.trim() }));
  await page.keyboard.press('Escape');
  await gone(sheet);
  equal(await page.evaluate(() => document.activeElement?.getAttribute('role')), 'listbox', 'the focus comes back');
  await hold('the mark is still the one', async () => (await active(page)) === use);
});

test('A mark far down is scrolled to when it is walked to', async (world) => {
  const page = await open(world, FERN, { size: NARROW });
  await drawn(page);
  await chart(page).focus();
  for (let i = 0; i < 12; i += 1) await page.keyboard.press('PageDown');
  await hold('what is active is within the window', () => page.evaluate(() => {
    const id = document.querySelector('[role="listbox"]').getAttribute('aria-activedescendant');
    const box = document.getElementById(id ?? '')?.getBoundingClientRect();
    return Boolean(box) && box.top > 60 && box.bottom < innerHeight;
  }));
});

test('Keys show fewer and more years, move through them, and show all again', async (world) => {
  const page = await open(world, FERN);
  await drawn(page);
  await chart(page).focus();
  const whole = await window(page);
  await page.keyboard.press('+');
  await hold('fewer years', async () => (await width(page)) < (whole[1] - whole[0]) * 0.8);
  near(await width(page), (whole[1] - whole[0]) / 1.5, 'a third fewer');
  const before = await window(page);
  await page.keyboard.press('ArrowRight');
  await hold('later years', async () => (await window(page))[0] > before[0] + 1);
  near(await width(page), before[1] - before[0], 'as many years');
  await page.keyboard.press('ArrowLeft');
  await hold('back again', async () => Math.abs((await window(page))[0] - before[0]) < 0.05);
  await page.keyboard.press('-');
  await hold('more years', async () => Math.abs((await width(page)) - (whole[1] - whole[0])) < 0.05);
  for (let i = 0; i < 12; i += 1) await page.keyboard.press('+');
  await hold('never fewer than can be told apart', async () => Math.abs((await width(page)) - 4) < 0.05);
  await page.keyboard.press('Home');
  await hold('all of them', async () => JSON.stringify(await window(page)) === JSON.stringify(whole));
});

test('The wheel with Ctrl keeps the year under the pointer, and without it scrolls the page', async (world) => {
  const page = await open(world, FERN);
  await drawn(page);
  const whole = await window(page);
  const box = await chart(page).boundingBox();
  const bar = await chart(page).getByRole('option', { name: /on Harrow/ }).first();
  await bar.scrollIntoViewIfNeeded();
  const x = box.x + box.width * 0.7;
  await page.mouse.move(x, 500);
  await page.keyboard.down('Control');
  await page.mouse.wheel(0, -240);
  await page.keyboard.up('Control');
  await hold('fewer years', async () => (await width(page)) < whole[1] - whole[0] - 5);
  const left = await page.evaluate(() => {
    const plot = document.querySelector('[role="listbox"] clipPath rect');
    return { from: Number(plot.getAttribute('x')) + 2, width: Number(plot.getAttribute('width')) - 4 };
  });
  const share = (x - box.x - left.from) / left.width;
  const now = await window(page);
  near(now[0] + share * (now[1] - now[0]), whole[0] + share * (whole[1] - whole[0]), 'the year under the pointer');
  const at = await page.evaluate(() => scrollY);
  await page.mouse.wheel(0, 300);
  await hold('the page scrolls', async () => (await page.evaluate(() => scrollY)) > at);
  equal(await window(page), now, 'the years after scrolling');
});

test('Dragging moves through the years, and does not open what was under the hand', async (world) => {
  const page = await open(world, `${FERN}&from=1925&to=1940`);
  await drawn(page);
  const before = await window(page);
  near(before[0], 1925, 'the first year of the address');
  const box = await chart(page).boundingBox();
  await page.mouse.move(box.x + box.width * 0.6, box.y + 40);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width * 0.6 - 200, box.y + 60, { steps: 5 });
  await page.mouse.up();
  await hold('later years', async () => (await window(page))[0] > before[0] + 1);
  equal(await page.getByRole('dialog').count(), 0, 'sheets opened by dragging');
  await hold('the address follows', async () => /from=19(2[6-9]|3\d)/.test(page.url()));
});

test('Two fingers show fewer years', async (world) => {
  const page = await open(world, FERN, { size: NARROW, touch: true });
  await drawn(page);
  const whole = await window(page);
  const box = await chart(page).boundingBox();
  const touch = await page.context().newCDPSession(page);
  const at = (type, ...xs) => touch.send('Input.dispatchTouchEvent', { type, touchPoints: xs.map((x, id) => ({ x, y: box.y + 60, id })) });
  await at('touchStart', box.x + 150);
  await at('touchStart', box.x + 150, box.x + 210);
  for (let i = 1; i <= 5; i += 1) await at('touchMove', box.x + 150 - i * 12, box.x + 210 + i * 12);
  await at('touchEnd');
  await hold('a third of the years', async () => (await width(page)) < (whole[1] - whole[0]) * 0.5);
  equal(await page.getByRole('dialog').count(), 0, 'sheets opened by pinching');
});

test('Years are typed to be shown exactly', async (world) => {
  const page = await open(world, FERN);
  await drawn(page);
  await page.getByLabel('From', { exact: true }).fill('1930');
  await page.getByLabel('to', { exact: true }).fill('1939');
  await page.getByLabel('to', { exact: true }).press('Enter');
  await hold('these years', async () => JSON.stringify(await window(page)) === '[1930,1940]');
  await hold('the address names them', async () => page.url().includes('from=1930') && page.url().includes('to=1939'));
  await page.reload();
  await drawn(page);
  equal(await window(page), [1930, 1940], 'the years after loading anew');
});

test('What is switched off is not drawn, also the next time', async (world) => {
  const page = await open(world, FERN);
  await drawn(page);
  const glazes = chart(page).getByRole('option', { name: /^Glaze / });
  equal((await glazes.count()) > 0, true, 'glazes at first');
  await page.getByRole('checkbox', { name: 'Glazes' }).uncheck();
  await hold('no glazes', async () => (await glazes.count()) === 0);
  await page.reload();
  await drawn(page);
  equal(await glazes.count(), 0, 'glazes after loading anew');
});

test('The picture that is taken stands alone: title, legend, sources, and nothing from elsewhere', async (world) => {
  const page = await open(world, FERN);
  await drawn(page);
  const [svg] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Take as SVG' }).click()]);
  equal(/^years-fern-pair.*\.svg$/.test(svg.suggestedFilename()), true, svg.suggestedFilename());
  const text = readFileSync(await svg.path(), 'utf8');
  for (const part of ['<title id="t">Fern pair', 'made, in the colour of its glaze', 'Harrow', 'Drawn by Footring from the pack', 'invented', '@font-face', 'data:font/woff2', 'data:image/svg+xml']) {
    if (!text.includes(part)) throw new Error(`the SVG lacks ${part}`);
  }
  const outward = [...text.matchAll(/(?:href|src)\s*=\s*"([^"]*)"|url\(\s*["']?([^"')\s]+)/g)].map((found) => found[1] ?? found[2]).filter((address) => !/^(#|data:)/.test(address));
  equal(outward, [], 'addresses outside the picture');
  const blank = await page.context().newPage(); // under no policy: on our own page its style sheet would be a fault
  const whole = await blank.evaluate((source) => new DOMParser().parseFromString(source, 'image/svg+xml').querySelector('parsererror')?.textContent ?? '', text);
  await blank.close();
  equal(whole, '', 'faults in the XML');
  // more rows than the screen holds are in it
  const rows = await chart(page).getAttribute('data-rows');
  equal((text.match(/font-size="1[49](\.5)?"/g) ?? []).length >= Number(rows) * 0.6, true, `words for ${rows} rows`);

  const [png] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Take as PNG' }).click()]);
  const bytes = readFileSync(await png.path());
  equal(bytes.subarray(1, 4).toString(), 'PNG', 'what it is');
  equal(bytes.readUInt32BE(16), 3200, 'its width');
  const inks = await page.evaluate(async (data) => {
    const image = await createImageBitmap(new Blob([Uint8Array.from(atob(data), (c) => c.charCodeAt(0))], { type: 'image/png' }));
    const canvas = new OffscreenCanvas(image.width, 300);
    const ink = canvas.getContext('2d');
    ink.drawImage(image, 0, 0);
    const pixels = ink.getImageData(0, 60, 900, 120).data;
    return new Set(Array.from({ length: pixels.length / 4 }, (_, i) => pixels[4 * i])).size;
  }, bytes.toString('base64'));
  equal(inks > 8, true, 'the title is drawn');
});

test('The same chronology stands in a table', async (world) => {
  const page = await open(world, FERN);
  await drawn(page);
  await page.getByText('As a table').click();
  const table = page.getByRole('region', { name: 'Treatments and their years' });
  await reads(table.getByRole('row', { name: /117 Fern pair with rosette/ }), /Harrow.*Oat.*1930/);
  await seen(page.getByRole('region', { name: 'Dated uses' }).getByRole('row').nth(1));
});

test('Of thousands of bars only those near the window are drawn, and the last are there when one comes to them', async (world) => {
  const page = await open(world, '/help');
  const source = { id: 's', title: 'List', trust: 1 };
  const at = (first, last) => ({ soft_first: first, first, last, soft_last: last });
  const lanes = Array.from({ length: 50 }, (_, lane) => ({
    shape: { id: `s-${lane}`, name: `Shape ${lane}` }, maker: null, span: at(1900, 1950), words: '1900 to 1950', sources: [source],
    bars: Array.from({ length: 100 }, (_, i) => ({
      treatment: { id: `t-${lane}-${i}`, number: `${lane}-${i}`, name: '' }, grade: 'first', glaze: null, places: [], edtf: '1910/1920', words: '1910 to 1920', stated: true,
      span: at(1905 + (i % 20), 1920 + (i % 20)), sources: [source],
    })),
  }));
  await page.route('**/api/years?*', (route) => route.fulfill({ json: {
    title: 'All', of: { table: 'cupboard', id: '', name: 'The cupboard', span: null, words: '', sources: [] }, first: 1900, last: 1950, lanes, ticks: [], glazes: [], numbers: [], pieces: [], notes: [],
  } }));
  await page.goto('/years?of=cupboard');
  await drawn(page);
  equal((await chart(page).getByRole('option').count()) < 500, true, 'bars drawn at once');
  await chart(page).focus();
  for (let i = 0; i < 49; i += 1) await page.keyboard.press('PageDown');
  await hold('the last lane is active', async () => /^Shape 49, made/.test(await active(page)));
  await seen(chart(page).getByRole('option', { name: /^49-0, on Shape 49/ }));
  equal((await chart(page).getByRole('option').count()) < 500, true, 'bars drawn at once, far down');
});

test('Another subject leaves nothing of the last one', async (world) => {
  const page = await open(world, FERN);
  await drawn(page);
  await chart(page).getByRole('option', { name: /^Harrow, / }).click({ position: { x: 5, y: 12 } }); // no dated use stands there
  await page.getByRole('dialog').getByRole('link', { name: 'Years of this shape' }).click();
  await gone(page.getByRole('dialog'));
  await reads(page.getByRole('heading', { level: 1 }), /^Harrow/);
  await drawn(page);
  await hold('only its own lane', async () => (await chart(page).getByRole('option', { name: / made / }).count()) === 1);
});
