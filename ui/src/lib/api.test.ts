// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, it, vi } from 'vitest';
import { api, problemsOf, queryOf, url } from './api';

type Asked = { address: string; init: RequestInit };

/** Stands in for the network: answers every call with this, and records what was asked. */
function network(status: number, body: string): Asked[] {
  const asked: Asked[] = [];
  vi.stubGlobal('fetch', (address: string, init: RequestInit) => {
    asked.push({ address, init });
    return Promise.resolve(new Response(body, { status }));
  });
  return asked;
}
afterEach(() => vi.unstubAllGlobals());

describe('a call', () => {
  it('gives back the value when the program answers', async () => {
    network(200, '{"status":"ok"}');
    expect(await api.health()).toEqual({ ok: true, value: { status: 'ok' } });
  });
  it('gives back the problems of the program unchanged', async () => {
    const problem = { code: 'not-found', where: 'pieces', what: 'There is no piece p-9.', remedy: 'Check the id.' };
    network(404, JSON.stringify({ problems: [problem] }));
    expect(await api.piece('p-9')).toEqual({ ok: false, problems: [problem] });
  });
  it('says that the program does not answer when the network fails', async () => {
    vi.stubGlobal('fetch', () => Promise.reject(new TypeError('Failed to fetch')));
    expect(await api.lots()).toEqual({
      ok: false,
      problems: [{
        code: 'unreachable', where: 'lots', what: 'The program on this machine does not answer.',
        remedy: 'Check that `footring serve` is still running in its terminal, then try again.',
      }],
    });
  });
  it('reports an answer that is not JSON instead of throwing', async () => {
    network(200, '<html>');
    const answer = await api.settings();
    expect(answer.ok ? '' : answer.problems[0]?.what).toBe('The answer of the program cannot be read.');
  });
  it('lets an aborted call reject, so that it is not shown as a failure', async () => {
    vi.stubGlobal('fetch', () => Promise.reject(new DOMException('stopped', 'AbortError')));
    await expect(api.health()).rejects.toThrow('stopped');
  });
  it('takes an empty answer for null', async () => {
    network(200, '');
    expect(await api.removeLot('lot-1')).toEqual({ ok: true, value: null });
  });
  it('sends a piece as JSON', async () => {
    const asked = network(200, '{}');
    await api.examine({ id: 'p-1', form: 'plate' });
    expect(asked[0]?.address).toBe('/api/examine');
    expect(asked[0]?.init.method).toBe('POST');
    expect(asked[0]?.init.body).toBe('{"piece":{"id":"p-1","form":"plate"}}');
    expect(asked[0]?.init.headers).toMatchObject({ 'Content-Type': 'application/json' });
  });
  it('sends every write as JSON, as the guard of the program demands', async () => {
    const asked = network(200, '{}');
    await api.undoLatest();
    await api.removePhoto('p-1', 'abc');
    for (const one of asked) expect(one.init.headers).toMatchObject({ 'Content-Type': 'application/json' });
    expect(asked).toHaveLength(2);
  });
  it('sends a photograph under its own type', async () => {
    const asked = network(201, '{}');
    await api.addPhoto('p-1', new Blob(['x'], { type: 'image/png' }), 'a b.png');
    expect(asked[0]?.address).toBe('/api/pieces/p-1/photos?name=a%20b.png');
    expect(asked[0]?.init.headers).toMatchObject({ 'Content-Type': 'image/png' });
  });
  it('gives a drawing back as text', async () => {
    network(200, '<svg/>');
    expect(await api.glyph({ id: 'x' }, [])).toEqual({ ok: true, value: '<svg/>' });
  });
  it('encodes ids, so that a colon or a slash stays inside one part of the address', async () => {
    const asked = network(200, '{}');
    await api.treatment('pack:t/1');
    expect(asked[0]?.address).toBe('/api/book/treatments/pack%3At%2F1');
  });
});

describe('the problems of a failed answer', () => {
  it('are our own when the body carries none', () => {
    expect(problemsOf(500, null, 'examine')).toEqual([{
      code: 'our-fault', where: 'examine', what: 'The program answered with status 500 and gave no reason.',
      remedy: 'Try again; if it happens again, look at the terminal in which footring runs.',
    }]);
  });
  it('are never an empty list', () => {
    expect(problemsOf(400, { problems: [] }, 'x')).toHaveLength(1);
    expect(problemsOf(400, { problems: ['text'] }, 'x')).toHaveLength(1);
  });
});

describe('an address', () => {
  it('leaves out what is empty and keeps false and 0', () => {
    expect(queryOf({ q: '', form: undefined, decided: false, offset: 0, a: 'x y' })).toBe('?decided=false&offset=0&a=x%20y');
    expect(queryOf({})).toBe('');
  });
  it('of a glyph names form and places', () => {
    expect(url.treatmentGlyph('t-117', 'sugar', ['rim', 'lid'])).toBe('/api/glyph/treatment/t-117?form=sugar&picked_out=rim%2Clid');
    expect(url.treatmentGlyph('t-117')).toBe('/api/glyph/treatment/t-117');
  });
});
