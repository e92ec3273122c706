// SPDX-License-Identifier: Apache-2.0
// The API document against the program: the document is valid OpenAPI 3.1; every operation of it is called on a real
// server over the demo (calls.mjs), and status, type and body of every answer are what the document says. An
// operation without a call that succeeds is a failure. That the judge is awake is shown by spoilt answers.
//   usage: FOOTRING_BIN=.../footring node run.mjs      prints `N passed, N failed`
import SwaggerParser from '@apidevtools/swagger-parser';
import Ajv2020 from 'ajv/dist/2020.js';
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { calls } from './calls.mjs';
import { atTheDoor } from './door_calls.mjs';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const program = process.env.FOOTRING_BIN ?? join(root, 'build/test/bin/footring');
const document = JSON.parse(readFileSync(join(root, 'src/server/openapi.json'), 'utf8'));

let passed = 0, failed = 0;
function hold(name, fault) {
    if (!fault) { passed += 1; return true; }
    failed += 1;
    console.log(`FAILED ${name}\n  ${fault}`);
    return false;
}

// --- the document ---------------------------------------------------------------------------------------------------
const faultOf = async (text) => {
    try { await SwaggerParser.validate(JSON.parse(text)); return ''; } catch (error) { return error.message; }
};
hold('the document is valid OpenAPI 3.1', await faultOf(JSON.stringify(document)));
for (const [name, spoil] of [
    ['an answer without a description', (d) => { delete d.paths['/api/health'].get.responses['200'].description; }],
    ['a reference to nothing', (d) => { d.components.schemas.Key.properties.nodes = { $ref: '#/components/schemas/None' }; }],
    ['a parameter in no place', (d) => { d.components.parameters.id.in = 'nowhere'; }],
    ['no title', (d) => { delete d.info.title; }],
]) {
    const copy = structuredClone(document);
    spoil(copy);
    hold(`a document with ${name} is refused`, (await faultOf(JSON.stringify(copy))) ? '' : 'it was taken');
}

const operations = new Map();
for (const [path, item] of Object.entries(document.paths))
    for (const [method, operation] of Object.entries(item)) {
        hold(`${operation.operationId} is the name of one operation`,
            operations.has(operation.operationId) ? 'two operations have it' : '');
        operations.set(operation.operationId, { path, method, operation, succeeded: false });
    }

// --- answers --------------------------------------------------------------------------------------------------------
const ajv = new Ajv2020({ strict: false, allErrors: true, validateFormats: false });
ajv.addSchema(document, 'document');
const escaped = (text) => encodeURIComponent(text.replaceAll('~', '~0').replaceAll('/', '~1'));
const known = new Map();
function validatorOf(steps) {
    const pointer = `document#/${steps.map(escaped).join('/')}`;
    if (!known.has(pointer)) known.set(pointer, ajv.compile({ $ref: pointer }));
    return known.get(pointer);
}
function judge(value, steps) {
    const validate = validatorOf(steps);
    return validate(value) ? '' : ajv.errorsText(validate.errors.slice(0, 5), { separator: '\n  ' });
}

// What is wrong with an answer to the operation; empty: nothing. `value` is the body, parsed when it is JSON.
function faultOfAnswer({ path, method, operation }, status, type, value) {
    let steps = ['paths', path, method, 'responses', String(status)];
    let response = operation.responses[status];
    if (!response) {
        if (status < 400) return `the document has no status ${status}`;
        steps = ['components', 'responses', 'Problems'];
        response = document.components.responses.Problems;
    }
    if (!response.content) return value.length === 0 ? '' : 'there is a body, and the document has none';
    const bare = type.split(';')[0].trim();
    const content = response.content[bare];
    if (!content) return `the document has no type '${bare}' for status ${status}`;
    if (!content.schema) return value.length > 0 ? '' : 'the body is empty';
    return judge(value, [...steps, 'content', bare, 'schema']);
}

function address(base, path, values, query) {
    const filled = path.replace(/\{(\w+)\}/g, (_, name) => {
        if (values[name] === undefined) throw new Error(`no value for {${name}} of ${path}`);
        return encodeURIComponent(values[name]);
    });
    const search = new URLSearchParams(query).toString();
    return `${base}${filled}${search ? `?${search}` : ''}`;
}

// --- the program ----------------------------------------------------------------------------------------------------
// A server over a new folder: where it is, what it said, and how it ends.
async function serve(data, words) {
    const server = spawn(program, ['serve', '--demo', '--port', '0', '--data', data, '--quiet', ...words],
        { stdio: ['ignore', 'pipe', 'inherit'] });
    const world = { server, said: '' };
    server.stdout.on('data', (chunk) => { world.said += chunk; });
    world.ended = new Promise((done) => {
        server.on('exit', (code, signal) => done({ code, signal }));
        server.on('error', (error) => done({ code: error.message, signal: null }));
    });
    world.started = await Promise.race([
        world.ended.then(() => null),
        new Promise((done) => {
            const look = setInterval(() => {
                const found = world.said.match(/Footring is at (https?:\/\/[^/]+:\d+)\//);
                if (found) { clearInterval(look); done(found[1]); }
            }, 20);
            setTimeout(() => { clearInterval(look); done(null); }, 30000).unref();
        }),
    ]);
    return world;
}
async function stop({ server, ended }) {
    server.kill('SIGTERM');
    const timer = setTimeout(() => server.kill('SIGKILL'), 10000);
    const end = await ended;
    clearTimeout(timer);
    return end;
}

// A call of an operation there, held to the document and to the status that is expected.
function caller(base) {
    return async (id, { values = {}, query = {}, body, bytes, type, headers = {}, status } = {}) => {
        const entry = operations.get(id);
        if (!entry) { hold(`${id} is an operation`, 'the document does not have it'); return {}; }
        const init = { method: entry.method.toUpperCase(), headers: { ...headers } };
        if (body !== undefined) { init.body = JSON.stringify(body); init.headers['Content-Type'] = 'application/json'; }
        if (bytes !== undefined) { init.body = bytes; init.headers['Content-Type'] = type; }
        const answer = await fetch(address(base, entry.path, values, query), init);
        const kind = answer.headers.get('content-type') ?? '';
        const raw = Buffer.from(await answer.arrayBuffer());
        const value = /^application\/(ld\+)?json/.test(kind) ? JSON.parse(raw.toString()) : raw.toString('latin1');
        const wanted = status ?? Number(Object.keys(entry.operation.responses).find((key) => /^2/.test(key)));
        const fault = answer.status !== wanted ? `status ${answer.status}, not ${wanted}: ${raw.toString().slice(0, 300)}`
            : faultOfAnswer(entry, answer.status, kind, value);
        hold(`${id} answers ${wanted} as the document says (${JSON.stringify({ values, query }).slice(0, 120)})`, fault);
        if (!fault && answer.status < 300) entry.succeeded = true;
        return { value, raw, headers: answer.headers };
    };
}

// A house that is shared has operations that others lack. Its certificate is its own, which nobody has to know here.
const house = mkdtempSync(join(tmpdir(), 'footring-openapi-shared-'));
const added = spawnSync(program, ['account', 'add', 'ada', '--role', 'keeper', '--data', house], { input: 'correct horse battery\n' });
if (hold('an account can be made', added.status === 0 ? '' : String(added.stderr))) {
    process.env.NODE_TLS_REJECT_UNAUTHORIZED = '0';
    const shared = await serve(house, ['--share', '--address', '127.0.0.1', '--name', 'localhost']);
    if (hold('a shared house opens', shared.started ? '' : `it said: ${shared.said}`)) {
        try {
            await atTheDoor(caller(shared.started));
        } catch (error) {
            hold('every call at the door can be made', error.stack);
        }
        await stop(shared);
    }
    delete process.env.NODE_TLS_REJECT_UNAUTHORIZED;
}
rmSync(house, { recursive: true, force: true });

const data = mkdtempSync(join(tmpdir(), 'footring-openapi-'));
const alone = await serve(data, []);
const { started, server } = alone;

if (hold('the program starts and says where it is', started ? '' : `it said: ${alone.said}`)) {
    const call = caller(started);
    try {
        await calls(call, hold);
    } catch (error) {
        hold('every call can be made', error.stack);
    }
    const served = (await call('document')).value;
    hold('the program serves this document', JSON.stringify(served) === JSON.stringify(document) ? '' : 'it is another');
    for (const [id, entry] of operations)
        hold(`${id} was called and succeeded`, entry.succeeded ? '' : `${entry.method} ${entry.path} was not exercised`);

    // Every named schema was needed by some answer or request; a forgotten one would describe nothing.
    const text = JSON.stringify(document);
    for (const name of Object.keys(document.components.schemas))
        hold(`schema ${name} is used`, text.includes(`"#/components/schemas/${name}"`) ? '' : 'nothing refers to it');

    const health = (await call('health')).value;
    const at = operations.get('health');
    for (const [name, spoil] of [
        ['a missing member', (v) => { delete v.pieces; }],
        ['a stranger', (v) => { v.colour = 'red'; }],
        ['another type', (v) => { v.pieces = 'many'; }],
    ]) {
        const copy = structuredClone(health);
        spoil(copy);
        hold(`an answer with ${name} is noticed`,
            faultOfAnswer(at, 200, 'application/json', copy) ? '' : 'it was taken');
    }
    hold('a status that is not documented is noticed', faultOfAnswer(at, 206, 'application/json', health) ? '' : 'it was taken');
    hold('a type that is not documented is noticed', faultOfAnswer(at, 200, 'text/html', '<p>') ? '' : 'it was taken');

    const end = await stop(alone);
    hold('the program stops when it is asked to, without a fault',
        end.code === 0 && /has stopped/.test(alone.said) ? '' : `${JSON.stringify(end)}, it said: ${alone.said}`);
}
if (server.exitCode === null && server.signalCode === null) server.kill('SIGKILL');
rmSync(data, { recursive: true, force: true });
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 && passed > 0 ? 0 : 1);
