// What is private, who may come in, and that the pages keep to their own content policy.
// SPDX-License-Identifier: Apache-2.0
import { NARROW, WIDE, equal, gone, hold, open, out, reads, seen, startProgram, test } from './harness.mjs';
import { join } from 'node:path';
import { fits, nobodyIsShutOut } from './access.mjs';
import { SCREENS, settled } from './screens.mjs';

const PEOPLE = [['ada', 'keeper', 'twelve blue saucers'], ['ben', 'contributor', 'twelve grey saucers'], ['cleo', 'reader', 'twelve white saucers']];
const MORE = ['/worth', '/worth/sales', '/worth/history', '/worth/haul', '/worth/schedule', '/services', '/services/wants', '/letters', '/letters/new'];

test('No page breaks its content policy or asks another machine for anything', async (world) => {
  // The harness notes both for every page that is opened; here the browser itself is asked too.
  const page = await open(world, '/');
  await page.addInitScript(() => {
    globalThis.broken = [];
    document.addEventListener('securitypolicyviolation', (event) => globalThis.broken.push(`${event.effectiveDirective} ${event.blockedURI} ${event.sample}`));
  });
  const policy = (await page.request.get('/')).headers()['content-security-policy'];
  equal(/unsafe/.test(policy), false, 'what the policy allows');
  equal(/default-src 'self'/.test(policy) && /frame-ancestors 'none'/.test(policy), true, 'what the policy says');
  for (const address of [...SCREENS.map((one) => one.address), ...MORE]) {
    await page.goto(address);
    await settled(page);
    equal(await page.evaluate(() => globalThis.broken), [], `what was refused on ${address}`);
  }
  // The watch is awake: something that the policy forbids is noticed.
  await page.evaluate(() => {
    const style = document.createElement('style');
    style.textContent = 'body { opacity: 0.5 }';
    document.head.append(style);
  });
  await hold('a style sheet that comes with an element is refused', async () => (await page.evaluate(() => globalThis.broken.length)) > 0);
  world.faults = [];
});

/** Runs with a house of its own that is shared. */
async function shared(world, run) {
  const program = await startProgram(PEOPLE);
  const house = { ...world, address: program.address };
  try {
    await run(house);
  } finally {
    for (const context of world.contexts.splice(0)) await context.close().catch(() => {});
    await program.stop();
  }
}
async function signIn(page, [name, , password]) {
  await page.getByLabel('Name').fill(name);
  await page.getByLabel('Password').fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
}

test('A shared house asks who one is, and shows each what their role allows', (world) => shared(world, async (house) => {
  const page = await open(house, '/cupboard/p-0041');
  await reads(page.getByRole('heading', { level: 1 }), 'Sign in');
  await nobodyIsShutOut(page);
  await page.screenshot({ path: join(out, 'sign-in-wide-light.png') });
  await signIn(page, ['ada', '', 'not the password']);
  await seen(page.getByRole('alert').filter({ hasText: 'There is no account of this name with this password'.toLowerCase().slice(0, 20) }));
  equal(await page.getByLabel('Password').inputValue(), '', 'what is left of the password');

  // A reader: the page that was asked for, without what is not for readers.
  await signIn(page, PEOPLE[2]);
  await reads(page.getByRole('heading', { level: 1 }), /p-0041/);
  await seen(page.getByRole('heading', { name: 'Care' }));
  equal(await page.getByRole('heading', { name: 'Keeping' }).count(), 0, 'the form of cost and place');
  equal(await page.getByRole('link', { name: 'Letters' }).count(), 0, 'the room of letters');
  equal(await page.getByRole('link', { name: 'People' }).count(), 0, 'the page of people');
  equal(await page.evaluate(() => document.cookie), '', 'what scripts see of the cookie');
  await page.goto('/letters');
  await seen(page.getByText('a reader may not do this'));

  // A contributor hides the piece, and it is gone for the reader.
  const other = await open(house, '/cupboard/p-0041');
  await signIn(other, PEOPLE[1]);
  await other.getByLabel(/^Private:/).check();
  await other.getByRole('button', { name: 'Save' }).click();
  await reads(other.locator('main header p.soft'), /private/);
  await page.goto('/cupboard/p-0041');
  await seen(page.getByRole('alert').filter({ hasText: 'p-0041' }));

  // A keeper sees who did it, and sends the reader away.
  const third = await open(house, '/people', { size: WIDE });
  await signIn(third, PEOPLE[0]);
  await reads(third.locator('ol li').filter({ hasText: 'Private from now on.' }), /^ben Private from now on\. p-0041/);
  await nobodyIsShutOut(third);
  await third.screenshot({ path: join(out, 'people-shared-wide-light.png'), fullPage: true });
  await third.getByRole('button', { name: 'Remove cleo' }).click();
  await third.getByRole('dialog').getByRole('button', { name: 'Remove the account' }).click();
  await gone(third.getByRole('combobox', { name: 'Role of cleo' }));
  await page.reload();
  await reads(page.getByRole('heading', { level: 1 }), 'Sign in');

  // Signing out here.
  await other.getByRole('button', { name: 'Account: ben' }).click();
  await seen(other.getByRole('dialog').getByText('127.0.0.1, here'));
  await other.screenshot({ path: join(out, 'account-wide-light.png') });
  await other.getByRole('dialog').getByRole('button', { name: 'Sign out', exact: true }).click();
  await reads(other.getByRole('heading', { level: 1 }), 'Sign in');
}));

test('A session that ends while a page is open leads to the door, and back to the page', (world) => shared(world, async (house) => {
  const page = await open(house, '/cupboard', { size: NARROW });
  await fits(page);
  await signIn(page, PEOPLE[1]);
  await reads(page.getByRole('heading', { level: 1 }), 'Cupboard');
  await page.context().clearCookies();
  await page.getByRole('link', { name: 'p-0041' }).first().click({ timeout: 3000 }).catch(() => page.goto('/cupboard/p-0041')); // news may have led to the door already
  await reads(page.getByRole('heading', { level: 1 }), 'Sign in');
  await signIn(page, PEOPLE[1]);
  await reads(page.getByRole('heading', { level: 1 }), /p-0041|Cupboard/);
}));

test('A backup is made, checked and brought back without leaving the page, or the page says that the database has its own', async (world) => {
  const page = await open(world, '/backups');
  if (process.env.FOOTRING_TEST_STORE === 'postgresql') {
    await seen(page.getByText(/^These pieces are in a PostgreSQL database\./));
    await gone(page.getByRole('button', { name: 'Make one now' }));
    await gone(page.getByText('There is no backup yet.'));
    return;
  }
  await page.getByRole('button', { name: 'Make one now' }).click();
  await seen(page.getByText(/A backup of \d+\spieces was made/));
  const first = page.locator('.backups li').first();
  await first.getByRole('button', { name: /^Check/ }).click();
  await seen(page.getByText(/is whole\./));
  const { total } = await (await page.request.get('/api/pieces?limit=0')).json();
  const added = await page.request.post('/api/pieces', { data: { piece: { id: 'p-after' }, revision: 0 }, headers: { Origin: world.address } });
  equal(added.status(), 201, 'a piece that comes after the backup');
  await first.getByRole('button', { name: /^Bring back/ }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Bring it back' }).click();
  await seen(page.getByText(/is back\. What was there before is kept as another\./));
  equal((await (await page.request.get('/api/pieces?limit=0')).json()).total, total, 'pieces after it came back');
  await seen(page.getByText('what was there before another was brought back'));
});
