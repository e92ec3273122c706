// Sets the chosen theme before the first paint, so that a dark page never flashes white.
// SPDX-License-Identifier: Apache-2.0
try {
  const chosen = localStorage.getItem('footring.theme');
  if (chosen === 'light' || chosen === 'dark') document.documentElement.dataset.theme = chosen;
} catch {
  // no storage: follow the system
}
