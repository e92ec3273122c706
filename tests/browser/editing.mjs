// Editing the Book as a person does: a row, its fault, its drawing, its undo, and another program that writes too.
// SPDX-License-Identifier: Apache-2.0
import { NARROW, equal, gone, hold, open, reads, seen, test } from './harness.mjs';

const pack = 'ambrel-valley';
const rowOf = async (world, table, first) => {
  const answer = await fetch(`${world.address}/api/editing/${pack}/${table}?first=${first}`);
  return (await answer.json()).rows[0];
};
const status = (page) => page.getByRole('status').first();

test('A row is edited, the page follows, and Undo takes it back', async (world) => {
  const before = await rowOf(world, 'treatments', 't-204');
  const page = await open(world, '/book/treatments/t-204');
  await page.getByRole('link', { name: 'Edit', exact: true }).click();
  await reads(status(page), 'Nothing is changed yet');
  await page.getByLabel('Name', { exact: true }).fill('Lace border');
  await reads(status(page), 'The pack stays sound');
  await page.getByRole('button', { name: 'Save' }).click();
  await reads(page.getByRole('heading', { level: 1 }), /Lace border/);
  equal((await rowOf(world, 'treatments', 't-204')).cells.name, 'Lace border');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await reads(page.getByRole('heading', { level: 1 }), /Lace edge/);
  equal(await rowOf(world, 'treatments', 't-204'), before, 'the row');
});

test('A fault stands under its field while one types, and nothing is written', async (world) => {
  const { line } = await rowOf(world, 'treatments', 't-204');
  const page = await open(world, `/book/edit/${pack}/treatments/${line}`, { size: NARROW });
  await page.getByLabel(/^Shape/).first().fill('coultre');
  await seen(page.getByText("did you mean 'coulter'?"));
  await reads(status(page), /not right$/);
  await page.getByRole('button', { name: 'Save' }).click();
  await seen(page.getByText('The edit was not kept.'));
  await page.getByLabel(/^Shape/).first().fill('coulter');
  await reads(status(page), 'Nothing is changed yet');
});

test('A date says what it means, and a wrong one how it would be written', async (world) => {
  const { line } = await rowOf(world, 'treatments', 't-204');
  const page = await open(world, `/book/edit/${pack}/treatments/${line}`);
  await page.getByLabel('Years').fill('1931~/1940');
  await seen(page.getByText('Means: between about 1931 and 1940.'));
});

test('A new row asks for its source, and its plate is drawn before it is kept', async (world) => {
  const page = await open(world, `/book/edit/${pack}/treatments/new`);
  await page.getByLabel('Id').fill('t-999');
  await page.getByLabel(/^Shape/).first().fill('coulter');
  await page.getByLabel('Number').fill('999');
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  await seen(page.getByText('the new row names no source', { exact: false }));
  await page.getByLabel('Source').first().fill('s-cat-kw-1912');
  await page.getByLabel('Source').first().press('Enter');
  await reads(status(page), 'The pack stays sound');
  await seen(page.getByAltText('How 999 would look'));
  await page.getByRole('button', { name: 'Add an ornament' }).click();
  await page.getByLabel('Ornament').fill('fern-pair');
  await reads(status(page), 'The pack stays sound');
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  await reads(page.getByRole('heading', { level: 1 }), /999/);
  await seen(page.getByRole('link', { name: 'Fern pair' }));
  await page.getByRole('button', { name: /^Undo/ }).click();
  await hold('the row is gone again', async () => (await rowOf(world, 'treatments', 't-999')) === undefined);
});

test('A drawing comes from a file, and one that runs something is refused', async (world) => {
  const { line } = await rowOf(world, 'ornaments', 'fern-pair');
  const page = await open(world, `/book/edit/${pack}/ornaments/${line}`);
  const give = async (text) => {
    await page.getByRole('button', { name: 'Change' }).click();
    await page.getByLabel(/^From a file/).setInputFiles({ name: 'fern.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(text) });
  };
  await give('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><script>1</script></svg>');
  await seen(page.getByText('it runs a script', { exact: false }));
  await give('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h9v9z"/></svg>');
  await gone(page.getByText('it runs a script', { exact: false }));
  await reads(status(page), 'The pack stays sound');
  await seen(page.getByAltText('The new drawing'));
});

test('Statements are added for and against from the page that they speak of', async (world) => {
  const page = await open(world, '/book/treatments/t-204');
  await page.getByRole('link', { name: 'Add a statement about something else' }).click();
  await reads(page.getByRole('heading', { level: 1 }), /statement|st-/i);
  equal(await page.getByLabel(/^Subject/).inputValue(), 't-204');
  await page.getByLabel(/^Property/).fill('years');
  await page.getByLabel(/^Value/).fill('1911 at the earliest');
  await page.getByLabel('Source').fill('s-history');
  await page.getByLabel('Source').press('Enter');
  await reads(status(page), 'The pack stays sound');
  await page.getByRole('button', { name: 'Add', exact: true }).click();
  await seen(page.getByText('1911 at the earliest'));
  await page.getByRole('button', { name: /^Undo/ }).click();
  await gone(page.getByText('1911 at the earliest'));
});

test('What another program wrote meanwhile is not written over', async (world) => {
  const row = await rowOf(world, 'treatments', 't-204');
  const page = await open(world, `/book/edit/${pack}/treatments/${row.line}`);
  await page.getByLabel('Name', { exact: true }).fill('Mine');
  await reads(status(page), 'The pack stays sound');
  await page.route('**/api/editing/edits', (route) => route.fulfill({
    status: 409, contentType: 'application/json',
    body: JSON.stringify({ problems: [{ code: 'conflict', where: 'treatments.csv', what: 'another program changed this file', remedy: 'read the pack again' }] }),
  }));
  await page.getByRole('button', { name: 'Save' }).click();
  await seen(page.getByText('Somebody else changed the pack.'));
  await page.getByRole('button', { name: 'Read the pack again' }).click();
  await seen(page.getByText('The packs were read again.'));
  equal((await rowOf(world, 'treatments', 't-204')).cells, row.cells, 'the row');
});

test('The pieces are examined again, and a decision is kept', async (world) => {
  const page = await open(world, '/book/review');
  await page.getByRole('button', { name: 'Examine the pieces again' }).click();
  await seen(page.getByText(/pieces? seen/));
  const keep = page.getByRole('button', { name: /^Keep the decision of/ });
  const before = await keep.count();
  if (before === 0) return;
  await keep.first().click();
  await hold('it leaves the list', async () => (await keep.count()) === before - 1);
});
