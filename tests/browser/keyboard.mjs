// Everything by keyboard alone, with a focus that can be seen.
// SPDX-License-Identifier: Apache-2.0
import { answered, equal, gone, hold, open, reads, seen, test } from './harness.mjs';
import { settled } from './screens.mjs';

const focused = (page) => page.evaluate(() => document.activeElement?.textContent?.trim().slice(0, 60) ?? '');

/** Presses Tab until the focused element fits; fails after too many. */
async function tabTo(page, fits, most = 120) {
  for (let i = 0; i < most; i += 1) {
    await page.keyboard.press('Tab');
    if (await page.evaluate(fits)) return;
  }
  throw new Error(`Tab never came to ${fits}`);
}

test('The first Tab offers to skip to the page', async (world) => {
  const page = await open(world, '/cupboard');
  await reads(page.getByRole('heading', { level: 1 }), 'Cupboard');
  await page.keyboard.press('Tab');
  equal(await focused(page), 'Skip to the page');
  await page.keyboard.press('Enter');
  equal(await page.evaluate(() => document.activeElement?.id), 'content');
});

test('A piece is examined and kept without a mouse', async (world) => {
  const page = await open(world, '/bench');
  await reads(page.getByRole('heading', { level: 1 }), 'A new piece');
  await page.getByLabel('Form', { exact: true }).focus();
  await page.keyboard.type('Teapot');
  await hold('the form is a teapot', async () => (await page.getByLabel('Form', { exact: true }).inputValue()) === 'teapot');
  await hold('a teapot is drawn', async () => (await page.locator('g[data-place="finial"]').count()) === 1);
  // the drawing is one stop; arrows walk its places
  await answered(page);
  await settled(page);
  await page.evaluate(() => document.querySelector('main h1')?.focus());
  await tabTo(page, () => document.activeElement?.matches('g[data-place]'));
  const first = await page.evaluate(() => document.activeElement?.getAttribute('data-place'));
  await page.keyboard.press('ArrowRight');
  const second = await page.evaluate(() => document.activeElement?.getAttribute('data-place'));
  if (first === second) throw new Error('an arrow key moved nowhere');
  await page.keyboard.press('Enter');
  await seen(page.getByRole('dialog'));
  await tabTo(page, () => document.activeElement?.textContent?.trim() === 'Nothing there', 20);
  await page.keyboard.press('Enter');
  await gone(page.getByRole('dialog'));
  await answered(page);
  await settled(page);
  await tabTo(page, () => document.activeElement?.textContent?.trim() === 'Keep undecided', 200);
  await page.keyboard.press('Enter');
  await seen(page.getByText(/is in the cupboard, undecided\.$/));
});

test('A drawing that is made anew keeps the focus', async (world) => {
  const page = await open(world, '/bench');
  let release = () => {};
  const released = new Promise((resolve) => (release = resolve));
  await hold('a plate is drawn', async () => (await page.locator('g[data-place="rim"]').count()) === 1);
  await page.route('**/api/glyph', async (route) => {
    await released;
    await route.fallback();
  });
  await page.getByLabel('Form', { exact: true }).selectOption({ label: 'Teapot' });
  await page.locator('g[data-place="rim"]').focus();
  release();
  await hold('a teapot is drawn', async () => (await page.locator('g[data-place="finial"]').count()) === 1);
  await hold('the focus is in the drawing', () => page.evaluate(() => document.activeElement?.matches('g[data-place]') ?? false));
});

test('The sheet of a place keeps the focus inside and gives it back', async (world) => {
  const page = await open(world, '/bench/p-0041');
  await seen(page.getByRole('list', { name: 'Looks by place' }));
  await page.locator('#look-lid').focus();
  await page.keyboard.press('Enter');
  await seen(page.getByRole('dialog'));
  for (let i = 0; i < 40; i += 1) {
    await page.keyboard.press('Tab');
    const inside = await page.evaluate(() => document.activeElement === document.body || document.activeElement?.closest('dialog') !== null);
    if (!inside) throw new Error('the focus left the sheet');
  }
  await page.keyboard.press('Escape');
  await gone(page.getByRole('dialog'));
  equal(await page.evaluate(() => document.activeElement?.id), 'look-lid');
});

test('Slash searches from anywhere, arrows choose, Enter opens', async (world) => {
  const page = await open(world, '/book');
  await reads(page.getByRole('heading', { level: 1 }), 'Book');
  await page.keyboard.press('/');
  const box = page.getByRole('dialog').getByRole('combobox');
  await seen(box);
  await box.fill('fern');
  await seen(page.getByRole('dialog').getByRole('option').first());
  await page.keyboard.press('ArrowDown');
  equal(await page.getByRole('dialog').getByRole('option').nth(1).getAttribute('aria-selected'), 'true', 'the second is chosen');
  await page.keyboard.press('Enter');
  await gone(page.getByRole('dialog'));
  await hold('another page is open', async () => !page.url().endsWith('/book'));
  equal(await page.evaluate(() => document.activeElement?.tagName), 'H1', 'focus after the page turned');
});

test('A slash typed into a field stays in the field', async (world) => {
  const page = await open(world, '/cupboard');
  await page.getByLabel('Find in the cupboard').press('/');
  equal(await page.getByRole('dialog').count(), 0, 'sheets');
});

test('Two keys lead to each room, and the question mark to the help', async (world) => {
  const page = await open(world, '/settings');
  for (const [keys, heading] of [[['g', 'c'], 'Cupboard'], [['g', 'o'], 'Book'], [['g', 'k'], 'Key'], [['g', 's'], 'Services'], [['g', 'y'], 'Years'], [['g', 'w'], 'Worth'], [['g', 'a'], 'Care'], [['?'], 'Help']]) {
    for (const key of keys) await page.keyboard.press(key);
    await reads(page.getByRole('heading', { level: 1 }), heading);
  }
});

test('Whatever has the focus can be seen to have it', async (world) => {
  for (const address of ['/bench/p-0041', '/cupboard', '/book/treatments/t-117', '/years?of=ornament:fern-pair', '/care', '/services/fern-rosette', '/services/compositions', '/services/found', '/worth/haul', '/worth/sales/doubtful', '/worth/history?form=dinner-plate']) {
    const page = await open(world, address);
    await settled(page);
    for (let i = 0; i < 45; i += 1) {
      await page.keyboard.press('Tab');
      const bare = await page.evaluate(() => {
        const one = document.activeElement;
        if (!one || one === document.body) return '';
        const styles = [one, one.parentElement, one.closest('label')].filter(Boolean).map((part) => getComputedStyle(part));
        const shown = styles.some((style) => (style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2) || style.filter !== 'none');
        return shown ? '' : one.outerHTML.slice(0, 140);
      });
      if (bare) throw new Error(`on ${address} no focus is shown on ${bare}`);
    }
  }
});

test('A composition is made without a mouse, line by line, and the focus comes back', async (world) => {
  const page = await open(world, '/services/compositions');
  await settled(page);
  const name = 'Make one of your own';
  await page.getByRole('button', { name }).focus();
  await page.keyboard.press('Enter');
  const sheet = page.getByRole('dialog');
  await seen(sheet);
  await page.keyboard.press('Escape');
  await gone(sheet);
  equal(await focused(page), name, 'the focus after Escape');
  await page.keyboard.press('Enter');
  await sheet.getByLabel('Name').focus();
  await page.keyboard.type('Two saucers');
  const choosing = () => document.activeElement?.tagName === 'SELECT';
  await tabTo(page, choosing, 10);
  await page.keyboard.type('Saucer');
  await hold('the form is taken', async () => (await sheet.getByRole('list', { name: /^Forms of/ }).count()) === 1);
  await tabTo(page, () => /^Add a line ?for all together/.test(document.activeElement?.textContent ?? ''), 40);
  await page.keyboard.press('Enter');
  await hold('the new line has the focus', () => page.evaluate(choosing));
  await page.keyboard.type('Teapot');
  await hold('the form is taken', async () => (await sheet.getByRole('list', { name: /^Forms of/ }).count()) === 2);
  await tabTo(page, () => document.activeElement?.textContent?.trim() === 'Keep it', 40);
  await page.keyboard.press('Enter');
  await gone(sheet);
  await seen(page.getByRole('heading', { name: 'Two saucers' }));
  await page.getByRole('button', { name: 'Remove Two saucers' }).press('Enter');
  await gone(page.getByRole('heading', { name: 'Two saucers' }));
});

test('A box lot is reckoned without a mouse', async (world) => {
  const page = await open(world, '/worth/haul');
  await page.getByLabel('Form of piece 1').focus();
  await page.keyboard.type('Dinner plate');
  await tabTo(page, () => document.activeElement?.textContent?.trim() === 'Add a piece', 20);
  await page.keyboard.press('Enter');
  await seen(page.getByLabel('Form of piece 2'));
  await tabTo(page, () => document.activeElement?.textContent?.trim() === 'Buy or leave?', 40);
  await page.keyboard.press('Enter');
  await reads(page.getByRole('region', { name: 'Buy or leave' }), /Up to \d.*qualified appraiser/);
});

test('A find is judged without a mouse', async (world) => {
  const page = await open(world, '/services/found');
  await page.getByLabel('or another form').focus();
  await page.keyboard.type('Saucer');
  await seen(page.getByRole('group', { name: 'What it is' }).getByRole('button', { name: /117/ }));
  await tabTo(page, () => /\b117\b/.test(document.activeElement?.textContent ?? ''), 40);
  await page.keyboard.press('Enter');
  await reads(page.getByRole('region', { name: 'What it would add' }), /Fern pair with rosette/);
});
