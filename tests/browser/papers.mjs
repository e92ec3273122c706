// The Papers screen: what it asks first, the paper shown, and the paper taken.
// SPDX-License-Identifier: Apache-2.0
import { equal, hold, open, seen, test } from './harness.mjs';

const shown = (page) => page.frameLocator('iframe').locator('html').innerHTML({ timeout: 500 }).catch(() => '');

test('A paper is shown as a page in which nothing can run, and is taken as a PDF', async (world) => {
  const page = await open(world, '/papers?kind=key&of=shape:corbel');
  await page.getByRole('button', { name: 'Show it' }).click();
  await hold('the key is there', async () => (await shown(page)).includes('<h1>Corbel</h1>'));
  equal(await page.locator('iframe').getAttribute('sandbox'), '', 'what the page of the paper may do');
  const pdf = await page.request.get(await page.getByRole('link', { name: 'Take the PDF' }).getAttribute('href'));
  equal(pdf.headers()['content-type'], 'application/pdf', 'type of what is taken');
  equal((await pdf.body()).subarray(0, 5).toString(), '%PDF-', 'how it begins');
});

test('A paper that lacks something says what, and cannot be asked for yet', async (world) => {
  const page = await open(world, '/papers');
  await seen(page.getByText('Choose what it is about.'));
  equal(await page.getByRole('button', { name: 'Show it' }).isDisabled(), true, 'showing a paper about nothing');
  await page.getByLabel('Ornament', { exact: true }).selectOption('fern-pair');
  await hold('it can be asked for', async () => !(await page.getByRole('button', { name: 'Show it' }).isDisabled()));
});

test('A paper that cannot be set says why in place of the paper', async (world) => {
  const page = await open(world, '/papers?kind=condition&piece=p-nowhere');
  await page.getByRole('button', { name: 'Show it' }).click();
  await seen(page.getByRole('alert').filter({ hasText: 'p-nowhere' }));
});
