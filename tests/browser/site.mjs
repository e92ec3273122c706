// The site of the Book, opened from the disk: no server, no request to anybody, every link leads somewhere.
// SPDX-License-Identifier: Apache-2.0
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { fits, nobodyIsShutOut } from './access.mjs';
import { NARROW, WIDE, equal, hold, open, out, reads, root, test } from './harness.mjs';

const program = process.env.FOOTRING_BIN ?? join(root, 'build/debug/bin/footring');
const pack = join(root, 'packs/ambrel-valley');
let folder;

/** The site with three pieces, made once; removed when the last test of this file is done. */
function site() {
  if (folder) return folder;
  const scratch = mkdtempSync(join(tmpdir(), 'footring-site-'));
  const data = join(scratch, 'data');
  folder = join(scratch, 'site');
  const run = (...words) => execFileSync(program, words, { encoding: 'utf8' });
  run('import', '--data', data, '--pack', pack, join(root, 'demo/cupboard'));
  run('export', 'site', '--data', data, '--pack', pack, '--piece', 'p-0004', '--piece', 'p-0001', '--piece', 'p-0041', '--out', folder,
    '--title', 'Plates of the Ambrel valley', '--note', 'An invented valley.');
  process.once('exit', () => rmSync(scratch, { recursive: true, force: true }));
  return folder;
}
const at = (path) => pathToFileURL(join(site(), path)).href;
const visit = (world, path, options) => open({ ...world, address: pathToFileURL(site()).href }, at(path), options);
const pages = (below = site()) =>
  readdirSync(below, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory() ? pages(join(below, entry.name)) : entry.name.endsWith('.html') ? [join(below, entry.name)] : []);

test('Every link and every picture of the site is there, and none leads out of it', async () => {
  let links = 0;
  const lost = [];
  for (const page of pages()) {
    for (const [, address] of readFileSync(page, 'utf8').replace(/<svg.*?<\/svg>/gs, '').matchAll(/(?:href|src)="([^"#]+)"/g)) {
      links += 1;
      if (/^[a-z]+:/.test(address) || !existsSync(resolve(dirname(page), decodeURIComponent(address)))) lost.push(`${relative(site(), page)}: ${address}`);
    }
  }
  equal(lost.slice(0, 5), [], 'lost links');
  if (links < 5000) throw new Error(`${links} links only`);
});

test('The site shows the pieces that were chosen and no others, and nothing that is private', async () => {
  equal(readdirSync(join(site(), 'pieces')).sort(), ['index.html', 'p-0001.html', 'p-0004.html', 'p-0041.html']);
  const all = pages().map((page) => readFileSync(page, 'utf8').replace(/<svg.*?<\/svg>/gs, '')).join('\n') + readFileSync(join(site(), 'search-index.js'), 'utf8');
  for (const secret of ['15.75', 'Oak dresser', 'grease pencil', 'lot-01']) if (all.includes(secret)) throw new Error(`it tells ${secret}`);
});

test('Photographs of the site hold pixels and nothing of the camera', async () => {
  const photos = readdirSync(join(site(), 'photos'));
  if (photos.length === 0) throw new Error('there is none');
  for (const name of photos) {
    const bytes = readFileSync(join(site(), 'photos', name));
    equal([...bytes.subarray(0, 2)], [0xff, 0xd8], 'the beginning of a JPEG');
    for (const word of ['Exif', 'http://ns.adobe.com', 'GPS']) if (bytes.includes(word)) throw new Error(`${name} holds ${word}`);
  }
});

test('Search finds by the beginnings of words, arrows choose, Enter opens', async (world) => {
  const page = await visit(world, 'shapes/index.html');
  const box = page.getByRole('combobox', { name: 'Find' });
  await box.fill('fern harrow');
  await hold('something is found', async () => (await page.getByRole('option').count()) > 1);
  const second = await page.getByRole('option').nth(1).locator('strong').textContent();
  await box.press('ArrowDown');
  equal(await page.getByRole('option').nth(1).getAttribute('aria-selected'), 'true', 'the second is chosen');
  await box.press('Enter');
  await reads(page.getByRole('heading', { level: 1 }), new RegExp(`${second.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}$`));
  await page.getByRole('combobox', { name: 'Find' }).fill('zzz');
  await reads(page.getByRole('status'), 'Nothing has these words.');
});

test('Without scripts the site is read by its lists', async (world) => {
  const context = await world.browser.newContext({ javaScriptEnabled: false });
  world.contexts.push(context);
  const page = await context.newPage();
  await page.goto(at('index.html'));
  equal(await page.getByRole('search').count(), 0, 'a search that would do nothing');
  await page.getByRole('navigation').getByRole('link', { name: 'Treatments' }).click();
  await page.getByRole('row').nth(1).getByRole('link').first().click();
  await reads(page.locator('dt').first(), 'Shape');
});

for (const [name, path] of [['front', 'index.html'], ['treatments', 'treatments/index.html'], ['treatment', 'treatments/ambrel-valley/t-117.html'],
  ['ornament', 'ornaments/ambrel-valley/fern-pair.html'], ['source', 'sources/ambrel-valley/s-history.html'], ['piece', 'pieces/p-0004.html']])
  for (const [look, options] of [['wide by day', { size: WIDE }], ['narrow by night', { size: NARROW, dark: true }]])
    test(`The page ${name} of the site, ${look}, fits and shuts nobody out`, async (world) => {
      const page = await visit(world, path, options);
      await reads(page.getByRole('heading', { level: 1 }), /./);
      await page.screenshot({ path: join(out, `site-${name}-${look.replaceAll(' ', '-')}.png`), fullPage: true });
      await fits(page);
      await nobodyIsShutOut(page, { fetches: false });
    });
