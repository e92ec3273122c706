// The whole way of a person: examine a piece, decide, find it in the cupboard, undo. By role and name throughout.
// SPDX-License-Identifier: Apache-2.0
import { NARROW, answered, equal, gone, hold, open, reads, seen, test } from './harness.mjs';
import { settled } from './screens.mjs';

const place = (page, name) => page.getByRole('list', { name: 'Looks by place' }).getByRole('button', { name: new RegExp(`^${name}`) });
const leading = (page) => page.getByRole('region', { name: 'What it may be' }).getByRole('listitem').first();

async function seeAt(page, where, what) {
  await place(page, where).click();
  const sheet = page.getByRole('dialog');
  await sheet.getByRole('button', { name: what }).click();
  await gone(sheet);
}

test('The first visit shows the worked example and says that it is invented', async (world) => {
  const page = await open(world, '/', { met: false });
  await reads(page.getByRole('heading', { level: 1 }), /^Sugar/);
  await seen(page.getByText('every source in the demo pack are invented'));
  await seen(leading(page));
  await page.getByRole('button', { name: 'Understood' }).click();
  await page.reload();
  await reads(page.getByRole('heading', { level: 1 }), /^Sugar/);
  await gone(page.getByText('every source in the demo pack are invented'));
});

test('The worked example shows odds that add up to one hundred', async (world) => {
  const page = await open(world, '/help');
  const asked = page.waitForResponse('**/api/examine');
  await page.goto('/bench/p-0041');
  const answer = await (await asked).json();
  const sum = answer.candidates.reduce((all, one) => all + one.probability, 0) + answer.open.unlisted + answer.open.elsewhere;
  if (Math.abs(sum - 1) > 0.01) throw new Error(`the odds sum to ${sum}`);
  await reads(page.getByRole('region', { name: 'What it may be' }), new RegExp(answer.candidates[0].number));
});

test('A piece is examined, decided, found in the cupboard, and all of it undone', async (world) => {
  const page = await open(world, '/bench');
  await reads(page.getByRole('heading', { level: 1 }), 'A new piece');
  await page.getByLabel('Form', { exact: true }).selectOption({ label: 'Dinner plate' });
  await page.getByLabel('Shape', { exact: true }).selectOption({ label: 'Harrow' });
  await page.getByLabel('Glaze', { exact: true }).selectOption({ label: 'Oat' });
  await seeAt(page, 'Rim', /^Fern pair/);
  await seeAt(page, 'Edge', 'Nothing there');
  await seeAt(page, 'Centre', /^Rosette/);
  await reads(place(page, 'Rim'), /Rim Fern pair/);
  await page.getByRole('textbox', { name: /^Number/ }).fill('117');
  await page.getByLabel('Mark on the underside').selectOption('none');
  await answered(page);
  await reads(leading(page), /117/);
  await page.getByRole('button', { name: 'Choose 117' }).click();
  const decision = page.getByRole('form', { name: 'Decision' });
  await decision.getByLabel('Grade').selectOption('first');
  await decision.getByLabel('Note').fill('Bought from a stall');
  await decision.getByRole('button', { name: 'Decide and keep' }).click();
  const notice = page.getByText(/^p-\d+ is in the cupboard as 117\.$/);
  await seen(notice);
  const id = (await notice.innerText()).split(' ')[0];

  await page.getByRole('navigation', { name: 'Rooms' }).getByRole('link', { name: 'Cupboard' }).click();
  await page.getByLabel('Find in the cupboard').fill('stall');
  await seen(page.getByRole('link', { name: id }));
  await reads(page.getByRole('row', { name: new RegExp(id) }), /117/);
  await page.getByRole('link', { name: id }).click();
  await reads(page.getByRole('heading', { level: 1 }), /^117/);
  await seen(page.getByRole('heading', { name: 'What the program said then' }));
  await seen(page.getByText('Bought from a stall').first());

  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByText('Undone.', { exact: true }));
  await page.goto('/cupboard?q=stall');
  await seen(page.getByText('No piece fits all of that.'));
});

test('The odds follow each look, and taking the look back brings the old odds', async (world) => {
  const page = await open(world, '/bench/p-0041');
  await seen(leading(page));
  const percents = async () => (await page.getByRole('region', { name: 'What it may be' }).getByText(/%$/).allInnerTexts()).join('|');
  await answered(page);
  const before = await percents();
  await seeAt(page, 'Lid', 'Nothing there');
  await hold('the odds change', async () => (await percents()) !== before);
  await page.getByRole('button', { name: /^Take back/ }).click();
  await hold('the odds return', async () => (await percents()) === before);
  await reads(place(page, 'Lid'), /Not looked at/);
});

test('A place of the drawing is clicked to say what is there', async (world) => {
  const page = await open(world, '/bench/p-0041');
  await settled(page); // the drawing is made anew when its answer comes
  await page.getByRole('button', { name: /^Lid: / }).click();
  await seen(page.getByRole('dialog', { name: 'Lid: what is there?' }));
  await page.keyboard.press('Escape');
  await gone(page.getByRole('dialog'));
});

test('An answer that was overtaken is never shown', async (world) => {
  const page = await open(world, '/bench/p-0041');
  await seen(leading(page));
  await answered(page);
  let release = () => {};
  let over = () => {};
  const held = new Promise((go) => (release = go));
  const slowIsOver = new Promise((done) => (over = done));
  let first = true;
  await page.route('**/api/examine', async (route) => {
    const slow = first;
    first = false;
    const response = await route.fetch().catch(() => undefined);
    if (slow) await held;
    if (!response) await route.abort().catch(() => {});
    else await route.fulfill({ json: { ...(await response.json()), verdict: slow ? 'The slow answer.' : 'The quick answer.' } }).catch(() => {});
    if (slow) over();
  });
  const asked = page.waitForRequest('**/api/examine');
  await page.getByLabel('Form', { exact: true }).selectOption({ label: 'Creamer' });
  await asked;
  await page.getByLabel('Form', { exact: true }).selectOption({ label: 'Teapot' });
  await seen(page.getByText('The quick answer.'));
  release();
  await slowIsOver;
  await seen(page.getByText('The quick answer.'));
  equal(await page.getByText('The slow answer.').count(), 0, 'slow answers shown');
});

test('Every number can be asked why, down to rows and sources', async (world) => {
  const page = await open(world, '/bench/p-0041');
  await seen(leading(page));
  await settled(page); // date and cautions are here, so that the reasons below them stand still
  for (const about of [/^Why\? the odds of/, /the two open possibilities/, /the date/, /the grade/, /the worth of this look/]) {
    const button = page.getByRole('button', { name: about }).first();
    equal(await button.getAttribute('aria-expanded'), 'false', `${about} begins closed`);
    await button.click();
    equal(await button.getAttribute('aria-expanded'), 'true', `${about} opens`);
  }
  const reasons = page.locator('#reasons');
  await reasons.getByText('why?').first().click();
  await seen(reasons.getByText(/\.csv:\d+/).first());
  await reasons.getByRole('link').first().click();
  await hold('a source opens', async () => /\/book\/sources\/|\/settings/.test(page.url()));
});

test('A next look leads to the input that it asks for', async (world) => {
  const page = await open(world, '/bench/p-0041');
  await settled(page);
  const next = page.getByRole('button', { name: /^(Look at the|Turn it over|Judge|Read)/ }).first();
  await next.click();
  await hold('something is ready to be filled in', () =>
    page.evaluate(() => document.querySelector('dialog[open]') !== null || /^look-/.test(document.activeElement?.id ?? '') || document.activeElement?.closest('fieldset') !== null));
});

test('A piece with a photograph keeps it untouched', async (world) => {
  const page = await open(world, '/bench');
  await page.getByLabel('Form', { exact: true }).selectOption({ label: 'Jug' });
  const png = Buffer.from('iVBORw0KGgoAAAANSUhEUgAAAAoAAAAKCAYAAACNMs+9AAAAFUlEQVR42mNk+M9Qz0AEYBxVSF+FAAhKDveksOjmAAAAAElFTkSuQmCC', 'base64');
  await page.getByLabel('Add photographs').setInputFiles({ name: 'jug.png', mimeType: 'image/png', buffer: png });
  const notice = page.getByText(/is in the cupboard, undecided: a photograph needs a piece to belong to\.$/);
  await seen(notice);
  const id = (await notice.innerText()).split(' ')[0];
  await seen(page.getByRole('heading', { name: 'jug.png' }));
  await page.goto(`/cupboard/${id}`);
  const photograph = page.getByRole('img', { name: 'jug.png' });
  await seen(photograph);
  const link = await page.getByRole('list', { name: 'Photographs' }).getByRole('link').first().getAttribute('href');
  const bytes = await page.evaluate(async (address) => [...new Uint8Array(await (await fetch(address)).arrayBuffer())], link);
  equal(Buffer.from(bytes).equals(png), true, 'the original bytes');
});

test('Selected pieces are changed together and undone together', async (world) => {
  const page = await open(world, '/cupboard?sort=id&order=asc');
  await page.getByRole('checkbox', { name: 'Select p-0001' }).check();
  await page.getByRole('checkbox', { name: 'Select p-0004' }).click({ modifiers: ['Shift'] });
  const bulk = page.getByRole('region', { name: 'Change the selected pieces' });
  await reads(bulk, /4 pieces selected/);
  await bulk.getByLabel('Place kept').fill('Attic trunk');
  await bulk.getByRole('button', { name: 'Set place' }).click();
  await seen(page.getByText('4 pieces now kept at “Attic trunk”.'));
  await reads(page.getByRole('row', { name: /p-0003/ }), /Attic trunk/);
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await hold('no piece is in the trunk', async () => (await page.getByRole('cell', { name: 'Attic trunk' }).count()) === 0);
});

test('Removed pieces come back with one click', async (world) => {
  const page = await open(world, '/cupboard?sort=id&order=asc');
  await page.getByRole('checkbox', { name: 'Select p-0002' }).check();
  await page.getByRole('region', { name: 'Change the selected pieces' }).getByRole('button', { name: 'Remove' }).click();
  await gone(page.getByRole('link', { name: 'p-0002' }));
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByRole('link', { name: 'p-0002' }));
});

test('A change of one piece stands in its history and is undone from there', async (world) => {
  const page = await open(world, '/cupboard/p-0005');
  await page.getByRole('textbox', { name: 'Place kept' }).fill('Larder');
  await page.getByRole('button', { name: 'Save' }).click();
  await seen(page.getByText('p-0005 was changed.'));
  await page.getByRole('main').getByRole('button', { name: /^Undo Kept at: Larder/ }).click();
  await hold('the place is as before', async () => (await page.getByRole('textbox', { name: 'Place kept' }).inputValue()) !== 'Larder');
});

test('A piece that was changed elsewhere meanwhile can still be kept from the Bench', async (world) => {
  const page = await open(world, '/bench/p-0007');
  await seen(leading(page));
  const rooms = page.getByRole('navigation', { name: 'Rooms' });
  await rooms.getByRole('link', { name: 'Cupboard' }).click();
  await page.getByLabel('Find in the cupboard').fill('p-0007');
  await page.getByRole('link', { name: 'p-0007' }).click();
  await page.getByRole('textbox', { name: 'Place kept' }).fill('Window sill');
  await page.getByRole('button', { name: 'Save' }).click();
  await seen(page.getByText('p-0007 was changed.'));
  await rooms.getByRole('link', { name: 'Bench' }).click();
  await reads(page.getByText(/^p-0007, kept at/), 'p-0007, kept at Window sill');
  await seeAt(page, 'Body', 'Worn traces');
  await answered(page);
  await page.getByRole('button', { name: /^Keep/ }).last().click();
  await seen(page.getByText(/^p-0007 is in the cupboard/));
});

test('Looks and statements that cannot all hold are named', async (world) => {
  const page = await open(world, '/bench');
  await page.getByLabel('Shape', { exact: true }).selectOption({ label: 'Harrow' });
  await page.getByLabel('Glaze', { exact: true }).selectOption({ label: 'Sedge' });
  await page.getByLabel('Mark on the underside').selectOption('m-3');
  const odds = page.getByRole('region', { name: 'What it may be' });
  await seen(odds.getByText('These cannot all hold:'));
  await reads(odds, /1938.*1930|1930.*1938/);
});

test('Text that looks like markup stays text', async (world) => {
  const page = await open(world, '/cupboard/p-0008');
  const trap = '<img src=x onerror="document.title=1"><b>bold</b>';
  await page.getByRole('textbox', { name: 'Note' }).fill(trap);
  await page.getByRole('textbox', { name: 'Place kept' }).fill(trap);
  await page.getByRole('button', { name: 'Save' }).click();
  await seen(page.getByText('p-0008 was changed.'));
  await page.goto('/cupboard');
  await seen(page.getByRole('cell', { name: trap }));
  equal(await page.locator('main b, main img[src="x"]').count(), 0, 'elements made from text');
});

test('A lot is added, edited, and its removal undone', async (world) => {
  const page = await open(world, '/cupboard/lots');
  await page.getByRole('button', { name: 'Add a lot' }).click();
  await page.getByRole('dialog').getByLabel('Name').fill('Church sale');
  await page.getByRole('dialog').getByLabel('Cost').fill('not much');
  await page.getByRole('dialog').getByRole('button', { name: 'Add' }).click();
  await seen(page.getByText('“not much” is not a number.'));
  await page.getByRole('dialog').getByLabel('Cost').fill('4.50');
  await page.getByRole('dialog').getByRole('button', { name: 'Add' }).click();
  await seen(page.getByRole('link', { name: 'Church sale' }));
  await page.getByRole('button', { name: 'Edit Church sale' }).click();
  await page.getByRole('dialog').getByLabel('Name').fill('Church hall sale');
  await page.getByRole('dialog').getByRole('button', { name: 'Save' }).click();
  await seen(page.getByRole('link', { name: 'Church hall sale' }));
  await page.getByRole('button', { name: 'Remove Church hall sale' }).click();
  await gone(page.getByRole('link', { name: 'Church hall sale' }));
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByRole('link', { name: 'Church hall sale' }));
});

test('Two treatments are compared on a form, and what differs is named', async (world) => {
  const page = await open(world, '/book/treatments/t-117');
  await page.getByRole('link', { name: 'Compare with others' }).click();
  const box = page.getByRole('combobox', { name: 'Add a treatment' });
  await box.fill('157');
  await page.getByRole('option', { name: /157/ }).first().click();
  await page.getByLabel('On the form').selectOption({ label: 'Sugar, lidded' });
  await seen(page.getByRole('row', { name: /^Lid/ }));
  await seen(page.getByText(/tells? at least two of them apart/));
});

test('The key leads from question to question down to treatments, and back', async (world) => {
  const page = await open(world, '/book/key?shape=harrow&form=sugar');
  const branches = page.getByRole('button', { name: /treatments?$/ });
  await seen(branches);
  let steps = 0;
  while ((await branches.count()) > 0 && steps < 12) {
    await branches.first().click();
    steps += 1;
  }
  await seen(page.getByRole('heading', { level: 2, name: /^(It is|Twins)/ }));
  await page.getByRole('button', { name: 'Begin again' }).click();
  await seen(branches);
});

test('On a phone the whole way fits and the leading odds stay in sight', async (world) => {
  const page = await open(world, '/bench/p-0041', { size: NARROW, touch: true });
  await seen(leading(page));
  await seen(page.getByTestId('summary'));
  await reads(page.getByTestId('summary'), /%/);
  await seen(page.getByText('Take one now'));
});
