// tests/browser/harness.mjs - the program, a browser, and a small way of saying what must hold.
//   Every check waits for the page: a fact is true when it becomes true within `patience`.
// SPDX-License-Identifier: Apache-2.0
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, mkdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

export const root = join(dirname(fileURLToPath(import.meta.url)), '../..');
export const out = join(root, 'tests/out');
export const patience = 45_000;  // ms: a loaded machine keeps a page waiting, and only what fails waits so long
export const WIDE = { width: 1440, height: 900 };
export const NARROW = { width: 390, height: 844 };

const tests = [];
/** Registers a fact: a sentence that can be false, and how to find out. */
export const test = (name, run) => tests.push({ name, run });

/** A PostgreSQL server for these tests; it ends when its standard input does. */
async function startDatabase() {
  const server = spawn('/usr/bin/python3', [join(root, 'tests/cluster.py')], { stdio: ['pipe', 'pipe', 'inherit'] });
  const ended = new Promise((done) => server.once('exit', done));
  const address = await new Promise((found, lost) => {
    let said = '';
    server.stdout.on('data', (chunk) => {
      said += chunk;
      if (said.includes('\n')) found(said.trim());
    });
    server.once('exit', (code) => lost(new Error(`PostgreSQL did not start (${code})`)));
  });
  return {
    address,
    stop: async () => {
      server.stdin.end();
      await ended;
    },
  };
}

/** Starts the program over an empty folder with the demo pieces, or, with FOOTRING_TEST_STORE=postgresql, over an empty
 *  database. FOOTRING_URL uses one that already runs.
 *  `people`: [name, role, password] of each; then it is shared, over TLS. */
export async function startProgram(people = []) {
  const running = people.length === 0 && process.env.FOOTRING_URL;
  if (running) return { address: running.replace(/\/$/, ''), stop: async () => {} };
  const bin = process.env.FOOTRING_BIN ?? join(root, 'build/debug/bin/footring');
  const app = join(root, 'ui/dist');
  if (!existsSync(bin)) throw new Error(`${bin} is not there: build the program, or name it in FOOTRING_BIN`);
  if (!existsSync(join(app, 'index.html'))) throw new Error(`${app} holds no built app: npm --prefix ui run build`);
  const data = mkdtempSync(join(tmpdir(), 'footring-browser-'));
  const database = process.env.FOOTRING_TEST_STORE === 'postgresql' ? await startDatabase() : undefined;
  const store = database ? ['--store', database.address] : [];
  for (const [name, role, password] of people) {
    const added = spawnSync(bin, ['account', 'add', name, '--role', role, '--data', data, ...store], { input: `${password}\n` });
    if (added.status !== 0) throw new Error(`there is no account for ${name}: ${added.stderr}`);
  }
  const sharing = people.length ? ['--share', '--address', '127.0.0.1', '--name', 'localhost', '--set', 'share_requests_at_once=100000'] : [];
  const program = spawn(bin, ['serve', '--demo', '--data', data, ...store, '--port', '0', '--quiet', ...sharing], {
    cwd: root, stdio: ['ignore', 'pipe', 'pipe'], env: { ...process.env, FOOTRING_SHARE: root },
  });
  const ended = new Promise((done) => program.once('exit', done).once('error', done));
  const stop = async () => {
    program.kill('SIGTERM');
    await ended;
    await database?.stop();
    rmSync(data, { recursive: true, force: true });
  };
  let said = '';
  const address = await new Promise((found, lost) => {
    const late = setTimeout(() => lost(new Error(`the program did not say where it is:\n${said}`)), 4 * patience);
    const hear = (chunk) => {
      said += chunk;
      const named = /https?:\/\/[a-z0-9.]+:\d+/.exec(said);
      if (!named) return;
      clearTimeout(late);
      found(named[0]);
    };
    program.stdout.on('data', hear);
    program.stderr.on('data', hear);
    program.once('error', lost);
    program.once('exit', (code) => lost(new Error(`the program ended with ${code}:\n${said}`)));
  }).catch(async (fault) => {
    await stop();  // else what was started keeps the run waiting for ever
    throw fault;
  });
  return { address, stop };
}

export const startBrowser = () =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage', '--force-prefers-reduced-motion', '--font-render-hinting=none'],
  });

const inFlight = new WeakMap();  // of each page: the requests that nothing has answered yet
/** Nothing was asked for half a second, and nothing is being asked, but for news of others: that question always waits. */
export async function quiet(page) {
  const asked = inFlight.get(page);
  let since = Date.now();
  await hold('the page has what it asked for', () => {
    if (asked.size > 0) since = Date.now();
    return Date.now() - since >= 500 || [...asked].map((request) => request.url());
  });
}

/** A page of its own, with no memory, at `address` or, for null, not yet anywhere. Faults in it, and any request to somebody else, fail the test that opened it. */
export async function open(world, address = '/', { size = WIDE, dark = false, touch = false, met = true } = {}) {
  const context = await world.browser.newContext({
    viewport: size, colorScheme: dark ? 'dark' : 'light', hasTouch: touch, baseURL: world.address, reducedMotion: 'reduce', locale: 'en-GB',
    ignoreHTTPSErrors: world.address.startsWith('https:'), // the house has a certificate of its own
  });
  // Somebody who was here before begins with an empty bench; `met: false` is a first visit.
  // The script also runs in frames; one that is sandboxed has no storage.
  if (met) await context.addInitScript(() => { if (globalThis.top === globalThis) localStorage.setItem('footring.met', 'yes'); });
  const page = await context.newPage();
  page.setDefaultTimeout(patience);
  page.on('pageerror', (fault) => world.faults.push(`${page.url()}: ${fault.message}`));
  page.on('console', (message) => {
    if (/Content Security Policy|Refused to/.test(message.text())) world.faults.push(message.text());
  });
  const asked = new Set();
  inFlight.set(page, asked);
  page.on('request', (request) => {
    if (!/^(data|blob):|\/api\/changes\/news/.test(request.url())) asked.add(request);
  });
  // What a page had asked when it was left may never be said to have ended.
  page.on('response', (response) => {
    const request = response.request();
    if (!request.isNavigationRequest() || request.frame() !== page.mainFrame()) return;
    asked.clear();
    asked.add(request);
  });
  page.on('requestfinished', (request) => asked.delete(request));
  page.on('requestfailed', (request) => asked.delete(request));
  page.on('request', (request) => {
    if (!request.url().startsWith(world.address) && !/^(data|blob):/.test(request.url())) world.faults.push(`it asked ${request.url()}`);
  });
  world.contexts.push(context);
  if (address !== null) await page.goto(address);
  return page;
}

export async function hold(what, ask) {
  const until = Date.now() + patience;
  let last;
  for (;;) {
    try {
      last = await ask();
      if (last === true) return;
    } catch (fault) {
      last = fault;
    }
    if (Date.now() > until) throw new Error(`${what}: ${last instanceof Error ? last.message : JSON.stringify(last)}`);
    await new Promise((go) => setTimeout(go, 50));
  }
}
export const seen = (locator) => hold(`${locator} is seen`, () => locator.first().isVisible());
export const gone = (locator) => hold(`${locator} is gone`, async () => (await locator.count()) === 0 || !(await locator.first().isVisible()));
export const reads = (locator, pattern) =>
  hold(`${locator} reads ${pattern}`, async () => {
    const text = (await locator.first().innerText()).replaceAll('\u00a0', ' ').replace(/\s+/g, ' ').trim();
    return (pattern instanceof RegExp ? pattern.test(text) : text === pattern) || text;
  });
/** The odds on the Bench are those of what stands there now: nothing is being asked, and nothing will move under the hand. */
export const answered = (page) =>
  hold('the odds are here', async () => (await page.getByRole('region', { name: 'What it may be' }).getAttribute('aria-busy')) === 'false');
export const equal = (got, wanted, what = 'value') => {
  if (JSON.stringify(got) !== JSON.stringify(wanted)) throw new Error(`${what}: got ${JSON.stringify(got)}, wanted ${JSON.stringify(wanted)}`);
};

/** Runs the facts whose name holds `only`. */
export async function runAll(only) {
  mkdirSync(out, { recursive: true });
  const words = only?.toLowerCase().split('|');
  const chosen = words ? tests.filter((one) => words.some((word) => one.name.toLowerCase().includes(word))) : tests;
  const world = { address: '', browser: undefined, contexts: [], faults: [] };
  let passed = 0;
  let failed = 0;
  let program;
  try {
    program = await startProgram();
    world.address = program.address;
    world.browser = await startBrowser();
    for (const { name, run } of chosen) {
      const began = Date.now();
      // a browser that fell over is a failure of one test, not of all that follow
      if (!world.browser.isConnected()) world.browser = await startBrowser();
      world.faults = [];
      try {
        await run(world);
        if (world.faults.length) throw new Error(`the page failed: ${world.faults.join('; ')}`);
        passed += 1;
        console.log(`ok      ${name} (${Date.now() - began} ms)`);
      } catch (fault) {
        failed += 1;
        console.log(`FAILED  ${name}\n        ${String(fault.message).split('\n').slice(0, 30).join('\n        ')}`);
        const page = world.contexts.at(-1)?.pages().at(-1);
        if (page) await page.screenshot({ path: join(out, `failed-${name.replace(/[^a-z0-9]+/gi, '-').slice(0, 60)}.png`) }).catch(() => {});
      }
      for (const context of world.contexts.splice(0)) await context.close().catch(() => {});
    }
  } catch (fault) {
    failed += 1;
    console.log(`FAILED  ${fault.message}`);
  } finally {
    await world.browser?.close();
    await program?.stop();
  }
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
}
