// Care: a laboratory's results beside the limits, cautions with each piece, and words that promise nothing.
// SPDX-License-Identifier: Apache-2.0
import { equal, hold, open, reads, seen, test } from './harness.mjs';
import { settled } from './screens.mjs';

const sheet = (page) => page.getByRole('form', { name: 'Leaching results' });
const results = (page) => page.getByRole('region', { name: 'Results beside the limits' });
const lead = (page, unit) => sheet(page).getByRole('textbox', { name: `Lead, mg/L, unit ${unit}`, exact: true });

test('Six units within the limit pass the rule of six, and the rule stands beside the verdict', async (world) => {
  const page = await open(world, '/care');
  await seen(sheet(page));
  await page.getByLabel('Depth inside, mm').fill('20');
  for (const [unit, amount] of [[1, '2.5'], [2, '2.0'], [3, '3.5'], [4, '2.1'], [5, '2.9'], [6, '3,0']]) await lead(page, unit).fill(amount);
  await page.getByRole('button', { name: 'Compare with the limits' }).click();
  const verdict = results(page).getByRole('listitem').filter({ hasText: 'US FDA, lead, flatware: 3 mg/L' });
  await reads(verdict, /^– ?Pass .*average of 6 units is 2\.667 mg\/L.*Rule: the average of six units/);
  await reads(verdict, /rule unverified/);
});

test('Fewer than six units cannot tell, one far over fails, and per area stays apart', async (world) => {
  const page = await open(world, '/care');
  await seen(sheet(page));
  await page.getByLabel('Depth inside, mm').fill('60');
  await page.getByLabel('Volume to the brim, ml').fill('900');
  await lead(page, 1).fill('9');
  await lead(page, 2).fill('0.1');
  await page.getByRole('button', { name: 'Compare with the limits' }).click();
  await reads(results(page).getByRole('listitem').filter({ hasText: 'US FDA, lead, small hollowware' }), /^× ?Fail/);
  await page.getByLabel('Volume to the brim, ml').fill('');
  await lead(page, 1).fill('0.2');
  await page.getByRole('button', { name: 'Compare with the limits' }).click();
  await hold('it cannot tell', async () => (await results(page).getByText(/Cannot tell$/).count()) > 0);
  equal((await results(page).innerText()).replaceAll('safe harbour', '').match(/\bsafe\b/i), null, 'promises'); // the name of a rule
});

test('A wrong amount is named by its unit and its column, and nothing is compared', async (world) => {
  const page = await open(world, '/care');
  await seen(sheet(page));
  await page.getByRole('button', { name: 'Compare with the limits' }).click();
  await seen(page.getByText('No unit has a result yet: enter what the laboratory measured, or paste its table.'));
  await lead(page, 2).fill('a little');
  await page.getByRole('button', { name: 'Compare with the limits' }).click();
  const alert = page.getByRole('alert').filter({ hasText: 'The results could not be compared.' });
  await reads(alert, /unit 2, lead in mg\/L.*a little/);
  equal(await results(page).count(), 0, 'results');
});

test('A table from the laboratory is pasted whole', async (world) => {
  const page = await open(world, '/care');
  await seen(sheet(page));
  await page.getByLabel('Depth inside, mm').fill('12');
  await page.getByRole('radio', { name: 'Paste a table' }).check();
  await page.getByLabel(/^One line a unit/).fill('unit,lead_mg_per_dm2\nA,0.2\nB,<0.05\n');
  await page.getByRole('button', { name: 'Compare with the limits' }).click();
  await reads(results(page), /2 units tested/);
  await seen(results(page).getByRole('heading', { name: 'Per area', exact: true }));
});

test('The cupboard is looked through for cautions, which lead to the pieces', async (world) => {
  const page = await open(world, '/care');
  await page.getByRole('button', { name: 'Look through the cupboard' }).click();
  await hold('all were looked at', async () => /\d+ pieces looked at\./.test((await page.getByText(/looked at\.$/).first().innerText()).replaceAll('\u00a0', ' ')));
  const tallies = page.getByRole('list', { name: 'Cautions in the cupboard' });
  equal((await tallies.getByRole('group').count()) > 2, true, 'several cautions');
  await tallies.locator('summary').first().click();
  await tallies.getByRole('link', { name: /^p-/ }).first().click();
  await seen(page.getByRole('heading', { name: 'Care', exact: true }));
});

test('Cautions stand with a piece, on the Bench and in the cupboard, each with why, and none promises anything', async (world) => {
  for (const address of ['/bench/p-0041', '/cupboard/p-0041']) {
    const page = await open(world, address);
    const why = page.getByRole('button', { name: /^Why\? the caution: / }).first();
    await seen(why);
    await settled(page);
    await why.click();
    equal(await why.getAttribute('aria-expanded'), 'true', 'it opens');
    await seen(page.getByText(/accredited laboratory and the rules of your place to say/).first());
    equal((await page.locator('main').innerText()).match(/\bsafe\b/i), null, `promises on ${address}`);
  }
});

test('The date is shown statement by statement, and wording that is added moves it', async (world) => {
  const page = await open(world, '/bench/p-0041');
  await seen(page.getByRole('heading', { name: 'Care', exact: true }));
  await settled(page);
  await page.getByText('Statement by statement', { exact: true }).click();
  const rows = page.getByRole('list', { name: 'Statements about its years' });
  await reads(rows, /Treatment 117 .*in use between 1930 and 1939.*Together about 19\d\d; 95 % within/);
  const together = async () => (await rows.getByRole('listitem').last().innerText()).replaceAll('\u00a0', ' ');
  const before = await together();
  const count = await rows.getByRole('listitem').count();
  await page.getByLabel('Wording on it that dates it').fill('Rd No 800000');
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  await hold('a statement more', async () => (await rows.getByRole('listitem').count()) > count);
  await hold('other years', async () => (await together()) !== before);
  await page.getByRole('button', { name: /^Remove “Rd No 800000”/ }).click();
  await hold('as before', async () => (await together()) === before);
  await page.getByLabel('Wording on it that dates it').fill('blue sky');
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  await seen(page.getByText('is no wording that the open packs date.'));
});

test('What the rooms hold beyond four is behind More on a phone', async (world) => {
  const page = await open(world, '/cupboard', { size: { width: 390, height: 844 }, touch: true });
  const rooms = page.getByRole('navigation', { name: 'Rooms' });
  await hold('Care is not in the bar', async () => !(await rooms.getByRole('link', { name: 'Care' }).isVisible()));
  await rooms.getByRole('button', { name: 'More' }).click();
  await page.getByRole('dialog', { name: 'Rooms' }).getByRole('link', { name: /^Care/ }).click();
  await reads(page.getByRole('heading', { level: 1 }), 'Care');
  equal(await page.getByRole('dialog').count(), 0, 'sheets left open');
});
