// lib/theme.svelte.ts - light, dark, or as the system says. public/theme.js sets it before the first paint.
// SPDX-License-Identifier: Apache-2.0
import { keep, kept } from './kept';

export type Theme = 'system' | 'light' | 'dark';
const system = matchMedia('(prefers-color-scheme: dark)');

class ThemeState {
  chosen = $state<Theme>(first());
  #systemDark = $state(system.matches);
  dark = $derived(this.chosen === 'dark' || (this.chosen === 'system' && this.#systemDark));

  constructor() {
    system.addEventListener('change', () => (this.#systemDark = system.matches));
  }
  choose(theme: Theme): void {
    this.chosen = theme;
    keep('theme', theme);
    if (theme === 'system') delete document.documentElement.dataset['theme'];
    else document.documentElement.dataset['theme'] = theme;
  }
}

function first(): Theme {
  const stored = kept('theme');
  return stored === 'light' || stored === 'dark' ? stored : 'system';
}

export const theme = new ThemeState();
