// Search over search-index.js: every word has to occur at the beginning of a word of a row. SPDX-License-Identifier: Apache-2.0
'use strict';
(() => {
  const form = document.querySelector('form[role=search]');
  const box = document.getElementById('find');
  const list = document.getElementById('found');
  const said = form.querySelector('.said');
  const up = document.body.dataset.up;
  const plain = (text) => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase().split(/[^\p{L}\p{N}]+/u).filter(Boolean);
  const rows = (window.siteIndex ?? []).map(([name, kind, detail, path]) => ({ name, kind, detail, path, words: plain(`${name} ${kind} ${detail}`), first: plain(name) }));
  const most = 20;
  let chosen = -1;
  form.hidden = false;

  function find(text) {
    const asked = plain(text);
    if (asked.length === 0) return [];
    const found = [];
    for (const row of rows) {
      let rank = 0;
      const fits = asked.every((word) => {
        if (row.first.includes(word)) rank += 2;
        else if (row.first.some((one) => one.startsWith(word))) rank += 1;
        else return row.words.some((one) => one.startsWith(word));
        return true;
      });
      if (fits) found.push({ row, rank });
    }
    // A stable sort: what ranks alike stays in the order of the Book.
    return found.sort((a, b) => b.rank - a.rank).map((one) => one.row);
  }

  function choose(at) {
    const options = [...list.children];
    chosen = options.length === 0 ? -1 : (at + options.length) % options.length;
    options.forEach((option, i) => option.setAttribute('aria-selected', String(i === chosen)));
    if (chosen >= 0) {
      box.setAttribute('aria-activedescendant', options[chosen].id);
      options[chosen].scrollIntoView({ block: 'nearest' });
    } else box.removeAttribute('aria-activedescendant');
  }

  function show() {
    const found = find(box.value);
    list.replaceChildren(...found.slice(0, most).map((row, i) => {
      const option = document.createElement('li');
      option.id = `found-${i}`;
      option.setAttribute('role', 'option');
      option.dataset.path = row.path;
      const name = document.createElement('strong');
      name.textContent = row.name;
      const what = document.createElement('span');
      what.textContent = [row.kind, row.detail].filter(Boolean).join(', ');
      option.append(name, ' ', what);
      option.addEventListener('mousedown', (event) => { event.preventDefault(); go(option); });
      return option;
    }));
    const open = found.length > 0;
    list.hidden = !open;
    box.setAttribute('aria-expanded', String(open));
    said.textContent = box.value.trim() === '' ? '' : found.length === 0 ? 'Nothing has these words.'
      : found.length > most ? `${found.length} found, the first ${most} are shown.` : `${found.length} found.`;
    choose(open ? 0 : -1);
  }
  function close() {
    list.hidden = true;
    box.setAttribute('aria-expanded', 'false');
    box.removeAttribute('aria-activedescendant');
  }
  function go(option) { window.location.href = up + option.dataset.path; }

  box.addEventListener('input', show);
  box.addEventListener('focus', () => { if (box.value.trim() !== '') show(); });
  box.addEventListener('blur', close);
  box.addEventListener('keydown', (event) => {
    if (event.key === 'ArrowDown') choose(chosen + 1);
    else if (event.key === 'ArrowUp') choose(chosen - 1);
    else if (event.key === 'Escape') close();
    else return;
    event.preventDefault();
  });
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    if (!list.hidden && list.children[chosen]) go(list.children[chosen]);
  });
})();
