// tests/browser/letters.mjs - a question comes, its piece is examined, the reply is composed and goes out.
// SPDX-License-Identifier: Apache-2.0
import { answered, equal, gone, hold, open, reads, seen, test } from './harness.mjs';

const askOf = async (world, path) => (await fetch(`${world.address}${path}`)).json();

/** A letter kept through the pages; its id. */
async function kept(page, { name, subject }) {
  await page.getByLabel('Who asked').fill(name);
  await page.getByLabel('What about').fill(subject);
  await page.getByLabel('What was written').fill('What do I have?\nIt was my aunt\u2019s.');
  await page.getByRole('button', { name: 'Keep the letter' }).click();
  await reads(page.getByRole('heading', { level: 1 }), `${name}: ${subject}`);
  return decodeURIComponent(new URL(page.url()).pathname.split('/').at(-1));
}

test('A letter that came is kept, listed by its state, and removed again', async (world) => {
  const page = await open(world, '/letters');
  await seen(page.getByRole('link', { name: 'Maud Ellery: a sugar bowl with a gold border' }));
  await page.getByRole('link', { name: 'A letter came' }).click();
  await page.getByRole('button', { name: 'Keep the letter' }).click();
  await seen(page.getByText('the letter is empty', { exact: false }));
  const id = await kept(page, { name: 'Ms Carr', subject: 'a sugar bowl' });
  equal((await askOf(world, `/api/letters/${id}`)).letter.text, 'What do I have?\nIt was my aunt\u2019s.', 'what was written');
  await page.getByLabel('State').selectOption('asked');
  await page.getByRole('button', { name: 'Save', exact: true }).click();
  await seen(page.getByText('The letter was changed.'));
  await page.getByRole('link', { name: 'Letters' }).last().click();
  await seen(page.getByRole('radio', { name: /^Asked back/ }));
  await page.locator('label', { hasText: /^Asked back/ }).click();
  await seen(page.getByRole('link', { name: 'Ms Carr: a sugar bowl' }));
  await page.locator('label', { hasText: /^New/ }).click();
  await gone(page.getByRole('link', { name: 'Ms Carr: a sugar bowl' }));
  await page.locator('label', { hasText: /^Answered/ }).click();
  await seen(page.getByText('No letter is in this state.'));
  await page.goto(`/letters/${id}`);
  await page.getByRole('button', { name: 'Remove the letter' }).click();
  await reads(page.getByRole('heading', { level: 1 }), 'Letters');
  await gone(page.getByRole('link', { name: 'Ms Carr: a sugar bowl' }));
  await page.getByRole('button', { name: /^Undo/ }).click();
  await seen(page.getByRole('link', { name: 'Ms Carr: a sugar bowl' }));
});

test('The reply is composed from what the Bench finds, changed by hand, set as PDF, and goes out', async (world) => {
  const page = await open(world, '/letters/new');
  const id = await kept(page, { name: 'Mr Dunn', subject: 'a dinner plate' });
  await page.getByLabel('Id of a piece that is there').fill('p-none');
  await page.getByRole('button', { name: 'Add it' }).click();
  await seen(page.getByText('there is no piece of this id', { exact: false }));
  await page.getByLabel('Id of a piece that is there').fill('p-0004');
  await page.getByRole('button', { name: 'Add it' }).click();
  await seen(page.getByRole('link', { name: 'p-0004' }));
  await page.getByLabel('Signature').fill('Orla');
  await page.getByRole('button', { name: 'Compose from the reasoning' }).click();
  const reply = page.getByRole('textbox', { name: 'Reply', exact: true });
  await hold('the reply is there', async () => /^Dear Mr Dunn,/.test(await reply.inputValue()));
  const text = await reply.inputValue();
  if (!/in 100/.test(text) || !/no appraisal/.test(text) || !text.trim().endsWith('Orla')) throw new Error(text);
  await reply.fill(text.replace('Dear Mr Dunn,', 'Dear Mr and Mrs Dunn,'));
  await page.getByRole('combobox', { name: 'Paper' }).selectOption('letter');
  // answered with nothing, the window stays where it is: what shows a PDF is the browser's own affair
  await page.route(`**/api/letters/${id}/paper?*`, (route) => route.fulfill({ status: 204 }));
  const asked = page.waitForRequest((request) => new URL(request.url()).pathname === `/api/letters/${id}/paper`);
  await page.getByRole('button', { name: 'Save and set as PDF' }).click();
  const address = (await asked).url();
  equal(new URL(address).searchParams.get('paper'), 'letter', 'the paper');
  const paper = await fetch(address);
  equal(paper.headers.get('content-type'), 'application/pdf');
  equal((await askOf(world, `/api/letters/${id}`)).letter.reply.startsWith('Dear Mr and Mrs Dunn,'), true, 'it was kept first');
  await page.goto(`/letters/${id}`);
  await page.getByLabel('They agree that what is found counts as a sighting').check();
  await page.getByRole('button', { name: 'It went out: mark as answered' }).click();
  await seen(page.getByText('The letter is answered.'));
  const sightings = await askOf(world, '/api/sightings');
  equal(sightings.rows.filter((row) => row.letter === id).map((row) => row.piece), ['p-0004'], 'sightings');
});

test('A piece of a letter is examined at the Bench and is not counted as one\u2019s own', async (world) => {
  const page = await open(world, '/letters/new');
  const id = await kept(page, { name: 'Miss Egg', subject: 'a saucer' });
  await page.getByRole('button', { name: 'Examine a new piece' }).click();
  await hold('the Bench is open', () => /\/bench\//.test(page.url()));
  await answered(page);
  const { letter } = await askOf(world, `/api/letters/${id}`);
  equal(letter.pieces.length, 1, 'pieces of the letter');
  await page.goto(`/letters/${id}`);
  await page.getByRole('button', { name: `Take out ${letter.pieces[0]}` }).click();
  await gone(page.getByRole('link', { name: letter.pieces[0] }));
});
