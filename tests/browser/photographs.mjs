// Photographs at the Bench: dropped, read, drawn over, suggested from, corrected by hand; and many of them at once.
//   The photographs are those of the demo, chosen by the truth that lies beside each.
// SPDX-License-Identifier: Apache-2.0
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { NARROW, WIDE, equal, gone, hold, open, out, reads, root, seen, test } from './harness.mjs';
import { fits, nobodyIsShutOut } from './access.mjs';
import { settled } from './screens.mjs';

const folders = (process.env.FOOTRING_PHOTOS ?? 'demo/photos/shown,demo/cupboard/photos').split(',')
  .map((folder) => resolve(root, folder)).filter((folder) => existsSync(folder));
const besides = (file) => file.replace(/\.jpg$/, '.json');
const photographs = new Map(folders.flatMap((folder) => readdirSync(folder).sort().map((name) => [name, join(folder, name)]))
  .filter(([name, file]) => name.endsWith('.jpg') && existsSync(besides(file))));
const names = [...photographs.keys()];
const truthOf = (name) => JSON.parse(readFileSync(besides(photographs.get(name)), 'utf8'));
const fronts = names.filter((name) => {
  const { side, kind, border, card, tilt_deg: tilt, low_contrast: pale } = truthOf(name);
  return side === 'front' && kind === 'round' && border?.present && card && tilt < 25 && !pale;
});
const backs = names.filter((name) => truthOf(name).side === 'back');
const fileOf = (name) => ({ name, mimeType: 'image/jpeg', buffer: readFileSync(photographs.get(name)) });
const wasRead = (page, name) => hold(`${name} was read`, async () =>
  (await page.getByRole('list', { name: 'Photographs' }).getByRole('listitem').filter({ has: page.getByRole('img', { name }) }).innerText()).includes('Read'));

async function withPhotograph(world, name, options) {
  const page = await open(world, '/bench', options);
  await reads(page.getByRole('heading', { level: 1 }), 'A new piece');
  await page.getByLabel('Add photographs').setInputFiles(fileOf(name));
  await seen(page.getByText(/a photograph needs a piece to belong to/));
  await wasRead(page, name);
  return page;
}
const suggestions = (page) => page.getByRole('region', { name: 'Suggested looks' });
const overlay = (page, name) => page.locator(`[data-overlay="${name}"]`);
const odds = async (page) => (await page.getByRole('region', { name: 'What it may be' }).getByText(/%$/).allInnerTexts()).join('|');

test('The demo has photographs to read', async () => {
  if (fronts.length === 0) throw new Error(`no decorated round front with a card among ${names.length} photographs`);
});

test('A dropped photograph is read and drawn over, each part of which can be switched', async (world) => {
  const page = await open(world, '/bench');
  await reads(page.getByRole('heading', { level: 1 }), 'A new piece');
  const { name, buffer } = fileOf(fronts[0]);
  const data = await page.evaluateHandle(([bytes, called]) => {
    const carried = new DataTransfer();
    carried.items.add(new File([Uint8Array.from(atob(bytes), (c) => c.charCodeAt(0))], called, { type: 'image/jpeg' }));
    return carried;
  }, [buffer.toString('base64'), name]);
  await page.locator('.photos').dispatchEvent('drop', { dataTransfer: data });
  await wasRead(page, name);
  await seen(overlay(page, 'rim'));
  await seen(overlay(page, 'border'));
  await seen(overlay(page, 'card'));
  await page.getByRole('checkbox', { name: 'Border' }).uncheck();
  equal(await overlay(page, 'border').count(), 0, 'the border after it was switched off');
  await page.getByRole('checkbox', { name: 'Border' }).check();
  await seen(overlay(page, 'border'));
  await seen(page.getByRole('region', { name: /^The rim as a ribbon/ }));
  await hold('the ribbon is a picture', () => page.getByAltText(/unrolled, outwards up/).evaluate((image) => image.naturalWidth > 400));
});

test('Borders like it in the cupboard are named, with what their pieces were decided to be', async (world) => {
  const borders = fronts.map((name) => truthOf(name).border.id);
  const first = fronts.find((_, i) => borders.indexOf(borders[i], i + 1) >= 0);
  const second = fronts.findLast((name) => truthOf(name).border.id === truthOf(first).border.id);
  await withPhotograph(world, first);
  const page = await withPhotograph(world, second);
  const alike = page.getByRole('region', { name: 'Borders like it in the cupboard' });
  await seen(alike);
  await reads(alike, /p-\d+ .*\d %/);
  await nobodyIsShutOut(page);
  await alike.getByRole('link').first().click();
  await hold('the other piece is on the bench', async () => /\/bench\/p-\d+/.test(page.url()));
});

test('The rim that is drawn is the rim that is there', async (world) => {
  const page = await withPhotograph(world, fronts[0]);
  const { rim_px: truth, photo } = truthOf(fronts[0]);
  const points = await overlay(page, 'rim').locator('.ink').getAttribute('d');
  const numbers = points.match(/-?[\d.]+/g).map(Number);
  const xs = numbers.filter((_, i) => i % 2 === 0);
  const middle = (Math.min(...xs) + Math.max(...xs)) / 2;
  const [x] = truth.centre_px ?? truth.centre;
  if (Math.abs(middle - x) > photo.width * 0.01) throw new Error(`its middle is at ${middle}, not ${x}`);
});

test('An accepted look enters the piece and moves the odds at once, a refused one stays refused', async (world) => {
  const page = await withPhotograph(world, fronts[0]);
  const list = suggestions(page);
  await seen(list.getByRole('button', { name: /^Accept Rim/ }));
  const before = await odds(page);
  await list.getByRole('button', { name: /^Accept Rim/ }).click();
  await hold('the odds move', async () => (await odds(page)) !== before);
  await reads(page.getByRole('list', { name: 'Looks by place' }).getByRole('button', { name: /^Rim/ }), /^Rim (?!Not looked at)/);
  await seen(list.getByText('Accepted', { exact: true }));
  await list.getByRole('button', { name: /^Refuse Edge/ }).click();
  await seen(page.getByText(/was refused and will not be suggested again/));
  await seen(list.getByText(/1\s+suggestion refused/));
  await page.getByRole('button', { name: /^Keep/ }).last().click();
  await seen(page.getByText(/is in the cupboard, undecided\.$/));
  await page.reload();
  await seen(list.getByText(/1\s+suggestion refused/));
  await list.getByText(/1\s+suggestion refused/).click();
  await list.getByRole('button', { name: /^Suggest again Edge/ }).click();
  await gone(list.getByText(/1\s+suggestion refused/));
  await seen(list.getByRole('button', { name: /^Accept Edge/ }));
});

test('Every suggestion and every number of a reading can be asked why', async (world) => {
  const page = await withPhotograph(world, fronts[0]);
  await suggestions(page).getByRole('button', { name: /^Why\? Rim/ }).click();
  await seen(suggestions(page).getByText(/how often such a reading was right/));
  await page.getByText('Everything that was read').click();
  for (const about of [/the outline/, /the size/, /the border/, /the glaze/]) {
    await page.getByRole('button', { name: new RegExp(`^Why\\? ${about.source}`) }).first().click();
  }
  await seen(page.getByText(/From the scale card: /));
});

test('All looks that are sure enough are accepted at once', async (world) => {
  const page = await withPhotograph(world, fronts[0]);
  await page.getByLabel('at least', { exact: true }).selectOption('guess');
  await suggestions(page).getByRole('button', { name: /^Accept \d+ looks?$/ }).click();
  await seen(suggestions(page).getByRole('button', { name: 'Nothing left to accept' }));
  equal((await suggestions(page).getByText('Accepted', { exact: true }).count()) > 1, true, 'several were accepted');
});

test('The rim is corrected by dragging and by arrow keys, and the photograph is read again', async (world) => {
  const page = await withPhotograph(world, fronts[1] ?? fronts[0]); // its hand-set rim is kept, whoever has these bytes
  await page.getByRole('button', { name: 'Correct the rim' }).click();
  const middle = page.getByRole('button', { name: /^Middle of the rim/ });
  await settled(page); // nothing above the photograph may still come and move it under the hand
  const ring = page.locator('[data-overlay="hand"] .ink');
  const at = async () => Number(await ring.getAttribute('cx'));
  const before = await at();
  const box = await middle.boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2 + 30, box.y + box.height / 2, { steps: 4 });
  await page.mouse.up();
  await hold('the rim follows the hand', async () => (await at()) > before + 5);
  const dragged = await at();
  await middle.focus();
  for (let i = 0; i < 3; i += 1) await page.keyboard.press('ArrowLeft');
  await hold('the arrow key moves it back', async () => (await at()) < dragged);
  await page.getByRole('button', { name: 'Read with this rim' }).click();
  await hold('it was read again', () => page.getByText('This rim was set by hand.').isVisible());
  await page.reload();
  await seen(page.getByText('This rim was set by hand.'));
  await page.getByRole('button', { name: 'Find the rim anew' }).click();
  await hold('it is found anew', async () => (await page.getByText('This rim was set by hand.').count()) === 0);
});

test('A photograph without a piece says so and offers to draw the rim', async (world) => {
  const page = await open(world, '/bench');
  await reads(page.getByRole('heading', { level: 1 }), 'A new piece');
  const png = await page.evaluate(async () => {
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [800, 600];
    const ink = canvas.getContext('2d');
    const wash = ink.createLinearGradient(0, 0, 800, 600);
    wash.addColorStop(0, '#b9b4a8');
    wash.addColorStop(1, '#a9a498');
    ink.fillStyle = wash;
    ink.fillRect(0, 0, 800, 600);
    return canvas.toDataURL('image/png').split(',')[1];
  });
  await page.getByLabel('Add photographs').setInputFiles({ name: 'table.png', mimeType: 'image/png', buffer: Buffer.from(png, 'base64') });
  await wasRead(page, 'table.png');
  await seen(page.getByText('No piece was found in this photograph.'));
  await page.getByRole('button', { name: 'Draw the rim by hand' }).click();
  equal(await page.getByRole('button', { name: /Arrow keys move it/ }).count(), 5, 'handles');
});

test('A file that is no photograph is named, with what to do', async (world) => {
  const page = await open(world, '/bench');
  await reads(page.getByRole('heading', { level: 1 }), 'A new piece');
  await page.getByLabel('Add photographs').setInputFiles({ name: 'torn.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('no photograph at all') });
  await seen(page.getByText('“torn.jpg” was not taken.'));
  await page.getByRole('button', { name: 'Take off torn.jpg' }).click();
  await gone(page.getByText('“torn.jpg” was not taken.'));
});

test('A batch is sent and read with progress, its looks accepted, and all of it undone', async (world) => {
  const page = await open(world, '/photographs');
  await reads(page.getByRole('heading', { level: 1 }), 'Many photographs');
  const two = [...fronts.slice(0, 1), ...(backs.length ? backs.slice(0, 1) : fronts.slice(1, 2))];
  await page.getByLabel('Choose photographs').setInputFiles(two.map(fileOf));
  const rows = page.getByRole('list', { name: 'Photographs of this batch' });
  await hold('both are listed', async () => (await rows.locator(':scope > li').count()) === two.length);
  await hold('both were read', async () => (await rows.locator(':scope > li[data-state="read"]').count()) === two.length);
  await seen(page.getByText(`${two.length} of ${two.length} sent, ${two.length} read. Finished.`));
  await page.getByLabel('Accept looks that are at least').selectOption('guess');
  await rows.getByRole('button', { name: /^Accept \d+ looks?/ }).first().click();
  await seen(rows.getByText(/looks? accepted$/));
  const piece = await rows.getByRole('link', { name: /^p-/ }).first().innerText();
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByText('Undone.', { exact: true }));
  await page.goto(`/cupboard/${piece}`);
  await seen(page.getByText('The piece could not be read.'));
});

test('A batch stops when asked, and goes on with the rest later', async (world) => {
  const page = await open(world, '/photographs');
  await reads(page.getByRole('heading', { level: 1 }), 'Many photographs');
  let slow = true;
  await page.route('**/api/pieces/*/photos?*', async (route) => {
    if (slow) await new Promise((go) => setTimeout(go, 700));
    await route.fallback().catch(() => {});
  });
  const some = Array.from({ length: 4 }, (_, i) => ({ ...fileOf(fronts[i % fronts.length]), name: `plate ${i}.jpg` }));
  await page.getByLabel('Choose photographs').setInputFiles(some);
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await seen(page.getByRole('button', { name: 'Go on with the rest' }));
  const rows = page.getByRole('list', { name: 'Photographs of this batch' });
  await hold('some were stopped', async () => (await rows.locator(':scope > li[data-state="stopped"]').count()) > 0);
  slow = false;
  await page.getByRole('button', { name: 'Go on with the rest' }).click();
  await hold('all were read', async () => (await rows.locator(':scope > li[data-state="read"]').count()) === some.length);
});

test('Photographs that were added elsewhere are read from the page of many, and that is stopped', async (world) => {
  const page = await open(world, '/photographs');
  await reads(page.getByRole('heading', { level: 1 }), 'Many photographs');
  const { name, buffer } = fileOf(fronts[0]);
  await page.evaluate(async ([bytes, called]) => {
    await fetch(`/api/pieces/p-0003/photos?name=${called}`, {
      method: 'POST', headers: { 'Content-Type': 'image/jpeg' }, body: Uint8Array.from([...Uint8Array.from(atob(bytes), (c) => c.charCodeAt(0)), 0]),
    });
  }, [buffer.toString('base64'), name]);
  await page.reload();
  const unread = page.locator('.unread');
  const read = page.getByRole('button', { name: /^Read (it|them)$/ });
  // the queue is slowed down for the page, so that there is a middle in which to stop it
  let end = false;
  await page.route('**/api/readings/r-*', async (route) => {
    if (route.request().method() === 'DELETE') end = true;
    if (end || route.request().method() !== 'GET') return route.fallback();
    const response = await route.fetch();
    const job = await response.json();
    return route.fulfill({ response, json: { ...job, state: 'running' } });
  });
  await read.click();
  await reads(unread, /^Reading photographs of the cupboard: \d+ of \d+/);
  await unread.getByRole('button', { name: 'Stop' }).click();
  await hold('it stopped or was done', async () => /(Stopped|Done): \d+.photographs? read/.test(await unread.innerText()));
});

for (const [size, width] of [[WIDE, 'wide'], [NARROW, 'narrow']]) {
  for (const dark of [false, true]) {
    test(`The Bench with a photograph, ${width} by ${dark ? 'night' : 'day'}, fits and shuts nobody out`, async (world) => {
      const page = await withPhotograph(world, fronts[0], { size, dark, touch: size === NARROW });
      await seen(overlay(page, 'rim'));
      await page.getByText('Everything that was read').click();
      await page.getByRole('button', { name: 'Correct the rim' }).click();
      await settled(page);
      await fits(page);
      await nobodyIsShutOut(page);
      await page.evaluate(() => scrollTo(0, 0));
      await page.screenshot({ path: join(out, `bench-photograph-${width}-${dark ? 'dark' : 'light'}.png`), fullPage: true });
    });
  }
}
