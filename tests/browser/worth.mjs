// Worth: estimates with their doubt, sales that look doubtful, box lots, a lot's cost shared over its pieces.
// SPDX-License-Identifier: Apache-2.0
import { NARROW, equal, gone, hold, open, reads, seen, test } from './harness.mjs';
import { fits, nobodyIsShutOut } from './access.mjs';
import { settled } from './screens.mjs';

test('An estimate is shown with its interval, its parts, like sales, and who has the last word', async (world) => {
  const page = await open(world, '/worth?piece=p-0041');
  const said = page.getByRole('region', { name: 'The estimate' });
  await reads(said, /As likely as not .* to .*; nine times in ten .* to /);
  await reads(said, /not a valuation.*qualified appraiser/);
  await seen(said.getByRole('heading', { name: 'What makes it up' }));
  equal((await said.getByRole('region', { name: 'Comparable sales' }).getByRole('row').count()) > 3, true, 'comparable sales');
});

test('A price that looks mistaken is named with what would be usual, and can be mended', async (world) => {
  const page = await open(world, '/worth/sales');
  await page.getByRole('link', { name: 'Doubtful sales' }).click();
  await reads(page.getByRole('heading', { level: 1 }), 'Doubtful sales');
  await seen(page.getByText(/Usual would be .* to /));
  const first = page.getByRole('button', { name: /^Edit sale-/ }).first();
  const id = (await first.innerText()).replace('Edit', '').trim();
  await first.click();
  const sheet = page.getByRole('dialog');
  await sheet.getByLabel('Price paid').fill('30');
  await sheet.getByRole('button', { name: 'Save' }).click();
  await gone(sheet);
  await seen(page.getByText(`The sale ${id} was changed.`));
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByText('Undone.', { exact: true }));
});

test('One sale that was kept twice is asked about, and two like sales are told apart', async (world) => {
  const page = await open(world, '/worth/sales/doubtful');
  await settled(page);
  const ids = [];
  for (const venue of ['Quay Fair', 'Barn sale']) {
    const sale = { date: '2024-05-05', price: 31, currency: 'USD', form: 'saucer', treatment: 't-117', venue };
    const kept = await page.request.post('/api/sales', { data: sale });
    equal(kept.status(), 201, 'a sale is kept');
    ids.push((await kept.json()).id);
  }
  await page.reload();
  const button = page.getByRole('button', { name: /^They are 2 sales/ });
  await seen(button);
  await button.click();
  await gone(button);
  await seen(page.getByText(/are kept as 2 sales; their notes say so/));
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(button);
  await page.getByRole('button', { name: `Remove ${ids[0]}`, exact: true }).click();
  await gone(button);
  equal((await page.request.delete(`/api/sales/${ids[1]}`)).status(), 200, 'the other is removed');
});

test('A box lot of known and unknown pieces has a worth, a highest bid, and the chance of a loss', async (world) => {
  const page = await open(world, '/worth/haul');
  const lot = page.getByRole('form', { name: 'The lot' });
  await lot.getByLabel('Form of piece 1').selectOption({ label: 'Dinner plate' });
  await lot.getByLabel('How many').fill('4');
  await lot.getByRole('button', { name: 'Add a piece' }).click();
  await lot.getByLabel('Form of piece 2').selectOption({ label: 'Sugar, lidded' });
  await lot.getByText(/^or by what is on it/).last().click();
  await lot.getByRole('list', { name: 'Looks of piece 2' }).getByRole('button', { name: /^Rim/ }).click();
  await page.getByRole('dialog').getByRole('button', { name: /^Fern pair/ }).first().click();
  await reads(lot.getByRole('list', { name: 'Looks of piece 2' }), /Fern pair/);
  await lot.getByLabel('Premium on the bid, %').fill('25');
  await lot.getByRole('button', { name: 'Buy or leave?' }).click();
  const said = page.getByRole('region', { name: 'Buy or leave' });
  await reads(said, /Up to \d.*Chance of a loss.*qualified appraiser/);
  await seen(said.getByRole('img', { name: /^What the lot may bring/ }));
  equal(await said.getByRole('row').count(), 3, 'rows of the pieces');
});

test('What a lot cost is looked at shared out, then recorded, and undone', async (world) => {
  const page = await open(world, '/cupboard/lots');
  await page.getByRole('button', { name: /^Share its cost/ }).first().click();
  const sheet = page.getByRole('dialog');
  await sheet.getByLabel(/^What the lot cost/).fill('99.99');
  await sheet.getByRole('button', { name: 'Share it out' }).click();
  // It opens with the cost that the lot has, shared out; what stands there is of that until the answer to the new one is here.
  await hold('the shares add up', async () => {
    const costs = await sheet.getByRole('row').evaluateAll((rows) => rows.slice(1).map((row) => Number(row.children[3].textContent.replace(/[^0-9.]/g, ''))));
    const sum = Math.round(costs.reduce((all, cost) => all + cost, 0) * 100);
    return sum === 9999 || sum;
  });
  await sheet.getByRole('button', { name: 'Record these costs' }).click();
  await gone(sheet);
  await seen(page.getByText(/was shared over its pieces/));
  await page.getByRole('status').getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByText('Undone.', { exact: true }));
});

test('To replace and to sell are two figures, on the page and on paper', async (world) => {
  const page = await open(world, '/worth/schedule');
  await seen(page.getByRole('heading', { name: 'Insurance schedule' }));
  await reads(page.getByText(/pieces together: nine times in ten/), /Market: dealer/);
  await page.getByLabel('Estimate of a sale').check({ force: true });
  await seen(page.getByRole('heading', { name: 'Estimate of a sale' }));
  await reads(page.getByText(/pieces together: nine times in ten/), /Market: auction/);
  const pdf = await page.request.get(await page.getByRole('link', { name: 'Insurance schedule as a PDF' }).getAttribute('href'));
  equal([pdf.status(), (await pdf.body()).subarray(0, 5).toString()], [200, '%PDF-'], 'the schedule as a PDF');
});

test('On a phone a lot with its answer, an estimate, a doubtful sale and the history of prices fit', async (world) => {
  const phone = { size: NARROW, touch: true };
  let page = await open(world, '/worth/haul', phone);
  await page.getByLabel('Form of piece 1').selectOption({ label: 'Dinner plate' });
  await page.getByText(/^or by what is on it/).tap();
  await page.getByRole('button', { name: 'Buy or leave?' }).tap();
  await seen(page.getByRole('region', { name: 'Buy or leave' }).getByRole('img', { name: /^Chance of a loss by bid/ }));
  await fits(page);
  await nobodyIsShutOut(page);

  page = await open(world, '/worth?piece=p-0041', phone);
  await seen(page.getByRole('region', { name: 'The estimate' }).getByRole('heading', { name: 'What makes it up' }));
  for (const summary of await page.locator('main summary').all()) await summary.tap();
  await fits(page);
  await nobodyIsShutOut(page);

  page = await open(world, '/worth/sales/doubtful', phone);
  await page.getByRole('button', { name: /^Edit sale-/ }).first().tap();
  await seen(page.getByRole('dialog').getByRole('button', { name: 'Save' }));
  await fits(page);
  await nobodyIsShutOut(page);

  page = await open(world, '/worth/history?form=dinner-plate', phone);
  await seen(page.getByRole('img').first());
  await fits(page);
  await nobodyIsShutOut(page);
});
