// Services: begun, allotted, laid as a table, changed by hand and by keyboard, and what is wanted.
// SPDX-License-Identifier: Apache-2.0
import { NARROW, equal, gone, hold, open, reads, seen, test } from './harness.mjs';
import { fits, nobodyIsShutOut } from './access.mjs';
import { settled } from './screens.mjs';

const table = (page) => page.getByRole('group', { name: /^Table of/ });
const tray = (page) => page.getByRole('list', { name: 'Pieces of the cupboard' });
const allotted = (page) => hold('the pieces are allotted', async () =>
  (await page.getByRole('button', { name: 'Allot the pieces' }).count()) === 1 && (await page.getByRole('button', { name: 'Stop', exact: true }).count()) === 0);

async function laid(world, service = 'fern-rosette') {
  const page = await open(world, `/services/${service}`);
  await page.getByRole('button', { name: 'Allot the pieces' }).click();
  await allotted(page);
  await reads(page.getByText(/of \d+\s+places? filled$/), /places? filled/);
  await settled(page);
  return page;
}

test('A service is a laid table whose places say in words what stands on them', async (world) => {
  const page = await laid(world);
  await seen(table(page).getByRole('region', { name: 'Setting 1' }));
  const words = await table(page).getByRole('button').evaluateAll((places) => places.map((place) => place.getAttribute('aria-label')));
  equal(words.every((one) => /: (filled|interchangeable|doubtful|missing|to buy)/.test(one)), true, `each place has its word: ${words}`);
  const signs = page.getByRole('list', { name: 'What the signs mean' });
  equal((await signs.getByRole('listitem').count()) > 1, true, 'the signs are told');
  await table(page).getByRole('button', { name: /: missing/ }).first().click();
  const sheet = page.getByRole('dialog');
  await seen(sheet.getByRole('button', { name: 'Show pieces of this form' }));
  await sheet.getByRole('button', { name: 'Show pieces of this form' }).click();
  await gone(sheet);
  await seen(page.getByText('Only pieces of the form that is missing.'));
});

test('A piece is put into a service by keyboard, with why it may serve or not, and taken out again by undo', async (world) => {
  const page = await laid(world);
  await page.getByLabel('Find a piece of the cupboard').fill('p-0006');
  await hold('one piece', async () => (await tray(page).getByRole('button', { name: /^p-/ }).count()) === 1);
  await tray(page).getByRole('button', { name: /^p-0006/ }).press('Enter');
  await reads(tray(page), /[a-z]{3,}.*\./);
  const put = page.getByRole('button', { name: /^Put into this service ?: p-0006/ });
  await seen(put);
  await put.press('Enter');
  await seen(page.getByText(/^p-0006 is held for this service\./));
  await reads(tray(page), /insisted on/);
  await seen(page.getByText(/Services or pieces were changed since this table was laid/));
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByText('Undone.', { exact: true }));
  await hold('nothing is insisted on', async () => !(await tray(page).innerText()).includes('insisted on'));
});

test('A piece dragged onto the table is held for the service', async (world) => {
  const page = await laid(world, 'tulip-tea');
  await page.getByLabel('Find a piece of the cupboard').fill('p-0008');
  const piece = tray(page).locator('li[draggable]').filter({ hasText: 'p-0008' });
  await hold('one piece', async () => (await tray(page).locator('li[draggable]').count()) === 1);
  await piece.dragTo(table(page), { targetPosition: { x: 60, y: 40 } });
  await seen(page.getByText(/^p-0008 is held for this service\./));
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByText('Undone.', { exact: true }));
});

test('Two allotments are compared, and the wants list stands in the order in which it completes most', async (world) => {
  const page = await open(world, '/services');
  const form = page.getByRole('form', { name: 'Allot the pieces' });
  const done = async () => (await (await page.request.get('/api/allotments')).json()).rows.filter((job) => job.state === 'done').length;
  for (const goal of ['settings', 'services']) {
    const before = await done();
    await form.getByLabel('What matters most').selectOption(goal);
    await form.getByRole('button', { name: 'Allot the pieces' }).click();
    await hold('one more is done', async () => (await done()) > before);
    await allotted(page);
    await seen(page.getByText(/settings? complete, .* whole/));
  }
  const compare = page.getByRole('form', { name: 'Compare two allotments' });
  await hold('two to compare', async () => !(await compare.getByRole('button', { name: 'Compare' }).isDisabled()));
  await compare.getByRole('button', { name: 'Compare' }).click();
  await reads(page.getByRole('heading', { level: 1 }), 'Two allotments');
  await seen(page.getByRole('row', { name: /^Complete settings/ }));
  await page.goBack();
  await page.getByRole('link', { name: 'Wants list' }).click();
  await reads(page.getByRole('heading', { level: 1 }), 'Wants list');
  await seen(page.getByText(/pieces? wanted, about/));
  await seen(page.getByText(/estimates from \d+ recorded sales.*no valuation/));
  await reads(page.getByRole('row', { name: /Saucer/ }), /[\d.]+ USD \([\d.]+ to [\d.]+\)/);
  const pdf = await page.request.get(await page.getByRole('link', { name: 'As a PDF' }).getAttribute('href'));
  equal([pdf.status(), pdf.headers()['content-type'], (await pdf.body()).subarray(0, 5).toString()], [200, 'application/pdf', '%PDF-'], 'the wants list as a PDF');
  await seen(page.getByRole('heading', { name: 'Step by step' }));
});

test('A service is begun, edited and removed, and the removal undone', async (world) => {
  const page = await open(world, '/services');
  await page.getByRole('button', { name: 'Begin a service' }).click();
  const sheet = page.getByRole('dialog');
  await sheet.getByLabel('Name').fill('Gold line for two');
  await sheet.getByRole('combobox', { name: 'Add a treatment' }).fill('101');
  await sheet.getByRole('option', { name: /101/ }).first().click();
  await sheet.getByLabel('For how many people').fill('2');
  await sheet.getByRole('button', { name: 'Begin' }).click();
  await reads(page.getByRole('heading', { level: 1 }), 'Gold line for two');
  await seen(page.getByText('Nothing was allotted yet.').first());
  await seen(table(page).getByRole('region', { name: 'Setting 2' }));
  await page.getByRole('link', { name: 'Services', exact: true }).last().click();
  await page.getByRole('button', { name: 'Remove Gold line for two' }).click();
  await gone(page.getByRole('link', { name: /^Gold line for two/ }));
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByRole('link', { name: /Gold line for two/ }));
});

test('A find on a phone says at once which service it would complete, and what like pieces bring', async (world) => {
  await laid(world);
  const page = await open(world, '/services/found', { size: NARROW, touch: true });
  const answer = page.getByRole('region', { name: 'What it would add' });
  await reads(answer, /Say which form it is\.$/);
  await page.getByRole('group', { name: 'Forms that you want' }).getByRole('button', { name: /^Saucer/ }).tap();
  await page.getByRole('group', { name: 'What it is' }).getByRole('button', { name: /117/ }).first().tap();
  await reads(answer, /^Completes setting 2 of 2 in Fern pair with rosette/);
  await reads(answer, /Like pieces bring about \d+ USD/);
  await reads(answer, /qualified appraiser/);
  await page.getByLabel('They ask').fill('900');
  await reads(answer, /900 USD is more than nineteen in twenty such sales bring/);
  // Wherever one is on the page, what it would complete stands on the screen.
  const said = await page.getByText(/^Completes setting 2 of 2/).last().boundingBox();
  equal(said.y > 0 && said.y + said.height < 844, true, `the sentence stands at ${said.y}`);
  await page.getByRole('button', { name: 'Take it to the Bench' }).click();
  await reads(page.getByRole('heading', { level: 1 }), /Saucer/);
});

test('A find that is seen before anything was allotted begins one allotment, and no more', async (world) => {
  const page = await open(world, '/help');
  const jobs = [];
  const job = (state) => ({ id: 'job-1', state, asked: { objective: 'settings' }, began: '2026-01-01T00:00:00Z', problems: [], progress: null, stale: false });
  let asked = 0;
  let begun = 0;
  await page.route('**/api/allotments', async (route) => {
    if (route.request().method() === 'POST') {
      begun += 1;
      jobs[0] = job('working');
      return route.fulfill({ status: 202, json: jobs[0] });
    }
    return route.fulfill({ json: { rows: jobs, total: jobs.length } });
  });
  await page.route('**/api/allotments/job-1', (route) => {
    asked += 1;
    if (asked > 2) jobs[0] = job('done');
    return route.fulfill({ json: jobs[0] });
  });
  await page.goto('/services/found');
  await reads(page.getByRole('region', { name: 'What it would add' }), 'Say which form it is.');
  await settled(page);
  equal(begun, 1, 'allotments begun');
});

test('A find by its looks only is judged with its doubt', async (world) => {
  const page = await open(world, '/services/found');
  await page.getByLabel('or another form').selectOption('sugar');
  await page.getByRole('list', { name: 'Looks' }).getByRole('button', { name: /^Rim/ }).click();
  await page.getByRole('dialog').getByRole('button', { name: /^Fern pair/ }).first().click();
  const answer = page.getByRole('region', { name: 'What it would add' });
  await hold('it is judged', async () => (await answer.innerText()).length > 40 && (await answer.getAttribute('aria-busy')) === 'false');
  await page.getByRole('button', { name: 'Another find' }).click();
  await reads(answer, /Say which form it is\.$/);
});

test('A composition of one\'s own is made from a common one, used by a service, and kept from removal while it is', async (world) => {
  const page = await open(world, '/services/compositions');
  await page.getByRole('button', { name: /^Make your own from it ?: Place setting of five/ }).click();
  const sheet = page.getByRole('dialog');
  await sheet.getByLabel('Name').fill('Tea for two');
  await sheet.getByLabel('For how many people').fill('2');
  await sheet.getByRole('button', { name: /^Remove the line Dinner plate/i }).click();
  await sheet.getByRole('button', { name: /^Add a line for all together/ }).click();
  await sheet.getByRole('button', { name: 'Keep it' }).click();
  await seen(sheet.getByText('No form is chosen.'));
  await sheet.getByLabel(/^Form/).last().selectOption({ label: 'Teapot' });
  await sheet.getByRole('button', { name: 'Keep it' }).click();
  await gone(sheet);
  await seen(page.getByRole('heading', { name: 'Tea for two' }));
  await seen(page.getByText(/For all: Teapot\./));
  await page.getByRole('button', { name: 'Edit Tea for two' }).click();
  await sheet.getByLabel('For how many people').fill('3');
  await sheet.getByRole('button', { name: 'Save' }).click();
  await seen(page.getByText(/^For 3\s+people/));
  await page.getByRole('button', { name: 'Remove Tea for two' }).click();
  await gone(page.getByRole('heading', { name: 'Tea for two' }));
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByRole('heading', { name: 'Tea for two' }));
});

test('A piece for which there is no place is refused with the reason', async (world) => {
  const page = await laid(world, 'tulip-tea');
  await page.getByLabel('Find a piece of the cupboard').fill('p-0023');
  await hold('one piece', async () => (await tray(page).getByRole('button', { name: /^p-/ }).count()) === 1);
  await tray(page).getByRole('button', { name: /^p-0023/ }).click();
  await page.getByRole('button', { name: /^Put into this service ?: p-0023/ }).click();
  await seen(page.getByText(/The composition has no place for a platter/).last());
});

test('On a phone a composition, a table, a find, the wants and a comparison fit with all that opens on them', async (world) => {
  const phone = { size: NARROW, touch: true };
  let page = await open(world, '/services/compositions', phone);
  await page.getByRole('button', { name: /^Make your own from it ?: Set of 95 pieces/ }).tap();
  await seen(page.getByRole('dialog').getByRole('button', { name: /^Add a line for each person/ }));
  await fits(page);
  await nobodyIsShutOut(page);

  page = await open(world, '/services/fern-rosette', phone);
  const done = async () => (await (await page.request.get('/api/allotments')).json()).rows.filter((job) => job.state === 'done').map((job) => job.id);
  const before = (await done()).length;
  for (const many of [1, 2]) {
    await page.getByRole('button', { name: 'Allot the pieces' }).tap();
    await hold('one more is done', async () => (await done()).length >= before + many);
    await allotted(page);
  }
  await table(page).getByRole('button').first().tap();
  await seen(page.getByRole('dialog'));
  await fits(page);
  await nobodyIsShutOut(page);

  page = await open(world, '/services/found', phone);
  await page.getByRole('group', { name: 'Forms that you want' }).getByRole('button', { name: /^Saucer/ }).tap();
  await hold('it is judged', async () => (await page.getByRole('region', { name: 'What it would add' }).getAttribute('aria-busy')) === 'false');
  await fits(page);

  page = await open(world, '/services/wants', phone);
  await seen(page.getByRole('heading', { name: 'Step by step' }));
  await fits(page);
  await nobodyIsShutOut(page);
  const [a, b] = await done();
  page = await open(world, `/services/compare?a=${a}&b=${b}`, phone);
  await seen(page.getByRole('row', { name: /^Complete settings/ }));
  await fits(page);
});
