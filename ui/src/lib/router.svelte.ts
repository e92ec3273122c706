// lib/router.svelte.ts - the address bar as state; links stay ordinary <a href>.
// SPDX-License-Identifier: Apache-2.0

class Router {
  path = $state(location.pathname);
  search = $state(location.search);
  query = $derived(new URLSearchParams(this.search));
  /** Grows with each page turned; the frame moves focus and scroll when it does. */
  turned = $state(0);

  constructor() {
    addEventListener('popstate', () => this.#read());
    document.addEventListener('click', (event) => this.#follow(event));
  }

  go(address: string): void {
    history.pushState(null, '', address);
    this.#read();
    scrollTo(0, 0);
  }

  /** Changes the query of this page without a new step in the history: filters, sort, the chosen form. */
  refine(changes: Record<string, string | null>): void {
    const query = new URLSearchParams(location.search);
    for (const [name, value] of Object.entries(changes)) {
      if (value === null || value === '') query.delete(name);
      else query.set(name, value);
    }
    const text = query.toString();
    history.replaceState(null, '', text ? `?${text}` : location.pathname);
    this.search = location.search;
  }

  #read(): void {
    const turns = this.path !== location.pathname;
    this.path = location.pathname;
    this.search = location.search;
    if (turns) this.turned += 1;
  }

  #follow(event: MouseEvent): void {
    if (event.defaultPrevented || event.button !== 0) return;
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    const link = event.target instanceof Element ? event.target.closest('a') : null;
    if (!link || link.target || link.hasAttribute('download') || link.origin !== location.origin) return;
    if (link.pathname.startsWith('/api/')) return;
    if (link.hash && link.pathname === location.pathname) return;
    event.preventDefault();
    this.go(link.pathname + link.search + link.hash);
  }
}

export const router = new Router();
