// Each page while it waits, when it fails, and when there is nothing to show.
// SPDX-License-Identifier: Apache-2.0
import { equal, gone, hold, open, reads, seen, test } from './harness.mjs';
import { SCREENS, settled } from './screens.mjs';

const problem = { problems: [{ code: 'store', where: 'the cupboard', what: 'The disk refused.', remedy: 'Free some space, then try again.' }] };

for (const { name, address, asks, fails } of SCREENS.filter((screen) => screen.asks)) {
  test(`The page ${name} waits quietly, not as if it were empty, says what failed and what to do, and tries again`, async (world) => {
    const page = await open(world, null);
    let fail = () => {};
    let broken = true;
    const held = new Promise((done) => (fail = done));
    await page.route(asks, async (route) => {
      if (!broken) return route.fallback();
      await held;
      return route.fulfill({ status: 503, json: problem });
    });
    await page.goto(address);
    const waiting = page.getByRole('status').filter({ hasText: /…/ });
    await hold('it says that it waits', async () => (await waiting.count()) > 0);
    equal(await page.getByText(/is empty\.|fits all of that|hold no |^No lots|^Nothing was changed|^No pack|^No service|^No sale|^Nothing to want/).count(), 0, 'claims of emptiness while waiting');
    fail();
    const alert = page.getByRole('alert').filter({ hasText: fails });
    await seen(alert);
    await reads(alert, /The disk refused\. ?Free some space, then try again\./);
    broken = false;
    await alert.getByRole('button', { name: 'Try again' }).click();
    await gone(alert);
    await hold('it stops waiting', async () => (await waiting.count()) === 0);
  });
}

test('A program that does not answer is named as such', async (world) => {
  const page = await open(world, null);
  await page.route('**/api/pieces?*', (route) => route.abort());
  await page.goto('/cupboard');
  await seen(page.getByText('The program on this machine does not answer.'));
});

const EMPTY = [
  ['/cupboard', '**/api/pieces?*', { rows: [], total: 0 }, 'The cupboard is empty.'],
  ['/cupboard?q=zzz', '**/api/pieces?*', { rows: [], total: 0 }, 'No piece fits all of that.'],
  ['/cupboard/lots', '**/api/lots', [], 'No lots yet.'],
  ['/cupboard/changes', '**/api/changes?*', [], 'Nothing was changed yet.'],
  ['/book/treatments', '**/api/book/treatments?*', { rows: [], total: 0 }, 'The open packs hold no treatments.'],
  ['/book/treatments?q=zzz', '**/api/book/treatments?*', { rows: [], total: 0 }, 'No treatment has that in its row.'],
  ['/book', '**/api/book', { packs: [], counts: {} }, 'No pack is open.'],
  ['/years?of=glaze:oat', '**/api/years?*', {
    title: 'Oat', of: { table: 'glaze', id: 'oat', name: 'Oat', span: null, words: '', sources: [] }, first: 1900, last: 1950, lanes: [], ticks: [], glazes: [], numbers: [], pieces: [], notes: [],
  }, 'Nothing here has a year yet.'],
  ['/services', '**/api/services', { rows: [], total: 0 }, 'No services yet.'],
  ['/services/found', '**/api/services', { rows: [], total: 0 }, 'No services yet.'],
  ['/services/wants', '**/api/allotments', { rows: [], total: 0 }, 'Nothing to want yet.'],
  ['/services/compare', '**/api/nothing', {}, 'Nothing to compare yet.'],
  ['/worth/sales', '**/api/sales?*', { rows: [], total: 0, currencies: [], venues: [] }, 'No sales yet.'],
  ['/worth/sales?q=zzz', '**/api/sales?*', { rows: [], total: 0, currencies: [], venues: [] }, 'No sale fits all of that.'],
  ['/worth/sales/doubtful', '**/api/sales/doubtful', { repeats: [], mistaken: [], total: 0, notes: [] }, 'No sale looks doubtful.'],
  ['/worth/history', '**/api/nothing', {}, 'Nothing is followed yet.'],
  ['/letters', '**/api/letters*', { rows: [], total: 0, states: {} }, 'No letters yet.'],
  ['/book/compare', '**/api/nothing', {}, 'Nothing to compare yet.'],
  ['/book/key?shape=harrow', '**/api/key?*', { nodes: [], expected_effort_min: 0, optimal: true }, 'No treatment of the open packs is made in this shape and form.'],
];
for (const [address, asks, answer, sentence] of EMPTY) {
  test(`With nothing to show, ${address} says: ${sentence}`, async (world) => {
    const page = await open(world, null);
    await page.route(asks, (route) => route.fulfill({ json: answer }));
    await page.goto(address);
    await seen(page.getByText(sentence));
  });
}

test('An empty bench says that nothing was looked at and offers no decision yet', async (world) => {
  const page = await open(world, '/bench');
  await reads(page.getByRole('heading', { level: 1 }), 'A new piece');
  equal(await page.getByRole('button', { name: 'Decide and keep' }).isDisabled(), true, 'deciding without a treatment');
});

test('A piece that is not there is said not to be there', async (world) => {
  const page = await open(world, '/cupboard/p-9999');
  await seen(page.getByText('The piece could not be read.'));
});

test('The odds keep their room: nothing on the bench moves while a new answer is awaited', async (world) => {
  const page = await open(world, '/bench/p-0041');
  await settled(page);
  const at = () => page.evaluate(() => scrollY + (document.querySelector('#decision')?.getBoundingClientRect().top ?? 0));
  const before = await at();
  let go = () => {};
  const held = new Promise((done) => (go = done));
  await page.route('**/api/examine', async (route) => {
    await held;
    await route.fallback().catch(() => {});
  });
  const asked = page.waitForRequest('**/api/examine');
  await page.getByLabel('Date code').fill('A');
  await asked;
  equal(await at(), before, 'the place of the decision while waiting');
  equal(await page.getByRole('region', { name: 'What it may be' }).getByRole('listitem').count() > 0, true, 'the old answer stays');
  go();
});
