// Two people at once: each sees what the other changes, as it happens, and nothing that either saw is lost.
//   The other person speaks to the program without a window.
// SPDX-License-Identifier: Apache-2.0
import { equal, hold, open, reads, seen, test } from './harness.mjs';

const record = async (world, id) => (await fetch(`${world.address}/api/pieces/${id}`)).json();
async function other(world, method, path, value) {
  const answer = await fetch(`${world.address}/api/${path}`, {
    method, headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(value),
  });
  if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${await answer.text()}`);
  return answer.json();
}
const fresh = (world) =>
  other(world, 'POST', 'pieces', { piece: { form: 'dinner-plate', looks: [{ place: 'edge', value: 'none' }] }, note: '', revision: 0 });

test('Two people at one piece: its page follows what the other keeps', async (world) => {
  const { piece: { id } } = await fresh(world);
  const page = await open(world, `/cupboard/${id}`);
  await reads(page.getByRole('heading', { level: 1 }), `${id}, undecided`);
  const now = await record(world, id);
  await other(world, 'PUT', `pieces/${id}`, { ...now, piece: { ...now.piece, date_code: '31-4' } });
  await seen(page.getByRole('cell', { name: '31-4' }));
});

test('Two people at one cupboard: a new piece appears in the list', async (world) => {
  const page = await open(world, '/cupboard');
  await seen(page.getByRole('table'));
  const { piece: { id } } = await fresh(world);
  await seen(page.getByRole('link', { name: id }));
});

test('Two people see different things on one piece, and both are kept', async (world) => {
  const { piece: { id } } = await fresh(world);
  const page = await open(world, `/bench/${id}`);
  await reads(page.getByText(id), new RegExp(id));
  await page.getByLabel('Glaze', { exact: true }).selectOption({ label: 'Oat' });
  const now = await record(world, id);
  await other(world, 'PUT', `pieces/${id}`, {
    ...now, piece: { ...now.piece, looks: [...now.piece.looks, { place: 'rim', value: 'fern-pair', sure: 'likely' }] },
  });
  await seen(page.getByText(`Somebody else changed ${id}: rim.`));
  equal(await page.getByLabel('Glaze', { exact: true }).inputValue(), 'oat', 'the glaze that is not kept yet');
  await page.getByRole('button', { name: 'Keep undecided' }).click();
  await hold('both are kept', async () => {
    const { piece } = await record(world, id);
    return (piece.glaze?.value === 'oat' && piece.looks.some((look) => look.place === 'rim' && look.value === 'fern-pair')) || piece;
  });
});

test('Two people change the same look: it is said, and the own one stays on the bench', async (world) => {
  const { piece: { id } } = await fresh(world);
  const page = await open(world, `/bench/${id}`);
  await page.getByLabel('Glaze', { exact: true }).selectOption({ label: 'Oat' });
  const now = await record(world, id);
  const glazes = (await (await fetch(`${world.address}/api/book/glazes`)).json()).rows.map((row) => row.id).filter((glaze) => glaze !== 'oat');
  await other(world, 'PUT', `pieces/${id}`, { ...now, piece: { ...now.piece, glaze: { value: glazes[0], sure: 'sure' } } });
  await seen(page.getByText(`Somebody else changed ${id} too: glaze.`, { exact: false }));
  equal(await page.getByLabel('Glaze', { exact: true }).inputValue(), 'oat', 'the own glaze');
});
