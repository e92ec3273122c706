// tests/browser/imports.mjs - lists brought in: pieces, sales and treatments; tried, mended, matched, undone.
// SPDX-License-Identifier: Apache-2.0
import { equal, gone, hold, open, reads, seen, test } from './harness.mjs';

const askOf = async (world, path) => (await fetch(`${world.address}${path}`)).json();
const paste = async (page, text) => {
  await page.getByLabel('or paste a table with its line of headings').fill(text);
  await page.getByRole('button', { name: 'Try it, changing nothing' }).click();
};
const bring = (page) => page.getByRole('button', { name: 'Bring in', exact: true });
const undo = (page) => page.getByRole('status').getByRole('button', { name: /^Undo/ });

test('An import is tried first, shows its faults by line, and is undone whole', async (world) => {
  const page = await open(world, '/cupboard');
  await page.getByRole('link', { name: 'Import and export' }).click();
  await paste(page, 'id,form,shape,glaze,rim\nx-1,dinner-plate,harrow,oat,fern-pair\nx-2,dinner-plate,no-such-shape,oat,fern-pair\n');
  await seen(page.getByText(/no-such-shape/).first());
  await seen(page.getByText('pasted table:3: shape'));
  equal(await bring(page).isDisabled(), true, 'nothing is brought in while there are faults');
  await page.getByLabel('Bring in the good rows even if others have faults').check();
  await hold('the good row may come in', () => bring(page).isEnabled());
  await page.getByLabel('Bring in the good rows even if others have faults').uncheck();
  await paste(page, 'id,form,shape,glaze,rim\nx-1,dinner-plate,harrow,oat,fern-pair\nx-2,dinner-plate,harrow,oat,none\n');
  await seen(page.getByText('2 pieces would be added.'));
  await bring(page).click();
  await seen(page.getByText('2 pieces added.'));
  await undo(page).click();
  await seen(page.getByText('Undone.', { exact: true }));
  await page.goto('/cupboard/x-1');
  await seen(page.getByText('The piece could not be read.'));
});

test('Columns are matched by hand once, and understood so when the list comes again', async (world) => {
  const page = await open(world, '/import?into=pieces');
  await paste(page, 'Ware,What,Mould\nDinner plate,red,harrow\n');
  await seen(page.getByText('none of its columns is known'));
  await page.getByLabel('What', { exact: true }).selectOption({ label: 'Note' });
  await page.getByLabel('Mould', { exact: true }).selectOption({ label: 'Shape' });
  await page.getByLabel('Ware', { exact: true }).selectOption({ label: 'Form' });
  await seen(page.getByRole('cell', { name: 'red' }));
  await seen(page.getByRole('cell', { name: 'dinner-plate' }));
  await seen(page.getByText('1 piece would be added.'));
  await bring(page).click();
  await seen(page.getByText('1 piece added.'));
  // Another page, another browser: it is kept with the pieces.
  const later = await open(world, '/import');
  await later.getByLabel('Choose a file').setInputFiles({ name: 'more.csv', mimeType: 'text/csv', buffer: Buffer.from('What,Mould,Ware\nblue,harrow,Dinner plate\n') });
  await seen(later.getByText('Understood as the last time', { exact: false }));
  equal(await later.getByLabel('What', { exact: true }).inputValue(), 'note');
  await seen(later.getByRole('cell', { name: 'blue' }));
  const kept = (await askOf(world, '/api/changes?limit=20')).some((change) => change.entity === 'mapping');
  equal(kept, true, 'the mapping is in the store');
});

test('Sales come in with a currency for those that name none', async (world) => {
  const page = await open(world, '/worth/sales');
  await page.getByRole('link', { name: 'Bring in a table' }).click();
  await paste(page, 'sold,paid,item,number\n2024-01,20,Dinner plate,t-117\n2024-02,21,Dinner plate,t-117\n');
  await seen(page.getByText('no column is taken for currency', { exact: false }));
  await page.getByLabel('Currency where none is said').fill('USD');
  await page.getByLabel('Currency where none is said').press('Tab');
  await seen(page.getByText('2 sales would be added.'));
  await bring(page).click();
  await seen(page.getByText('2 sales added.'));
  await undo(page).click();
  await seen(page.getByText('Undone.', { exact: true }));
});

test('A catalogue goes into a pack, with a source for its rows, and the Book undoes it', async (world) => {
  const page = await open(world, '/book/edit');
  await page.getByRole('link', { name: 'Import a catalogue' }).click();
  await seen(page.getByLabel('Pack that they go into'));
  await paste(page, 'No.\tLine\tBody\tDescription\tDates\n9901\tHarrow\tOat\tFern and line\t1931/1935\n');
  await page.getByLabel('Source of rows that name none').selectOption({ index: 1 });
  await reads(page.getByRole('status').first(), '1 treatment would be added.');
  await bring(page).click();
  await seen(page.getByText('1 treatment added.', { exact: false }));
  equal((await askOf(world, '/api/editing/ambrel-valley/treatments?q=9901')).total, 1, 'rows of the pack');
  await page.goto('/book/edit');
  await page.getByRole('button', { name: /^Undo: Treatments of/ }).first().click();
  await hold('the row is gone again', async () => (await askOf(world, '/api/editing/ambrel-valley/treatments?q=9901')).total === 0);
});

test('A long list says how far it is, and can be stopped', async (world) => {
  const rows = Array.from({ length: 60_000 }, (_, i) => `long-${i},dinner-plate,harrow,oat,fern-pair,row ${i}`).join('\n');
  const page = await open(world, '/import');
  await page.getByLabel('Choose a file').setInputFiles({ name: 'long.csv', mimeType: 'text/csv', buffer: Buffer.from(`id,form,shape,glaze,rim,note\n${rows}\n`) });
  await seen(page.getByRole('progressbar'));
  await seen(page.getByText(/^(Reading|Comparing with what is there): row/));
  await page.getByRole('button', { name: 'Stop' }).click();
  await gone(page.getByRole('progressbar'));
  equal((await askOf(world, '/api/imports')).state, 'stopped');
  equal((await askOf(world, '/api/pieces?q=long-1&limit=0')).total, 0, 'nothing is stored');
});
