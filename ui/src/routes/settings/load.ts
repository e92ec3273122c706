// SPDX-License-Identifier: Apache-2.0
import { api } from '../../lib/api';
import type { Answer, Health, SettingRow } from '../../lib/types';

export type About = { health: Health; settings: SettingRow[] };

export async function loadAbout(signal: AbortSignal): Promise<Answer<About>> {
  const [health, settings] = await Promise.all([api.health(signal), api.settings(signal)]);
  if (!health.ok) return health;
  if (!settings.ok) return settings;
  return { ok: true, value: { health: health.value, settings: settings.value } };
}
