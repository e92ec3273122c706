// lib/kept.ts - small things this browser remembers. Storage may be switched off; then nothing is remembered.
// SPDX-License-Identifier: Apache-2.0

export function kept(name: string): string | null {
  try {
    return localStorage.getItem(`footring.${name}`);
  } catch {
    return null;
  }
}

export function keep(name: string, value: string | null): void {
  try {
    if (value === null) localStorage.removeItem(`footring.${name}`);
    else localStorage.setItem(`footring.${name}`, value);
  } catch {
    // full or forbidden: the page works without
  }
}
