// routes/years/export.ts - what a picture needs so that it can stand alone, and the files made of it.
//   Fonts and drawings are fetched from our own program and written into the picture; nothing points elsewhere.
// SPDX-License-Identifier: Apache-2.0
import type { Ink } from './draw';

/** The colours that the page has now, by day or by night. */
export function plainInk(): Ink {
  const style = getComputedStyle(document.documentElement);
  const of = (name: string) => style.getPropertyValue(name).trim();
  return {
    paper: of('--paper'), ink: of('--ink'), soft: of('--soft'), line: of('--line'), rule: of('--rule'), focus: of('--focus'),
    serif: of('--serif'), sans: of('--sans'),
  };
}

const asData = async (response: Response): Promise<string> => {
  const blob = await response.blob();
  return await new Promise((done, lost) => {
    const reader = new FileReader();
    reader.onload = () => done(String(reader.result));
    reader.onerror = () => lost(reader.error ?? new Error('unreadable'));
    reader.readAsDataURL(blob);
  });
};

/** An address as a data: address; absent when it cannot be had. A picture without a drawing is better than none. */
export async function embedded(address: string): Promise<string | undefined> {
  try {
    const response = await fetch(address);
    return response.ok ? await asData(response) : undefined;
  } catch {
    return undefined;
  }
}

/** The page's fonts for Latin letters as rules with data: addresses. */
export async function fontRules(): Promise<string> {
  const rules: string[] = [];
  for (const sheet of document.styleSheets) {
    for (const rule of sheet.cssRules) {
      if (!(rule instanceof CSSFontFaceRule)) continue;
      const family = rule.style.getPropertyValue('font-family');
      if (!/unicode-range:[^;]*U\+0+-FF\b/i.test(rule.cssText)) continue;
      const address = /url\(["']?([^"')]+)/.exec(rule.style.getPropertyValue('src'))?.[1];
      const data = address && (await embedded(new URL(address, sheet.href ?? location.href).href));
      if (data) rules.push(`@font-face{font-family:${family};font-weight:200 900;src:url(${data}) format("woff2")}`);
    }
  }
  return rules.join('');
}

export function save(content: Blob, name: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(content);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

// Browsers refuse larger canvases; a very tall picture becomes a little coarser instead of nothing.
const MOST_PIXELS = 64e6;
const MOST_SIDE = 16_000;
export async function png(svg: string, width: number, height: number): Promise<Blob | undefined> {
  const scale = Math.min(2, Math.sqrt(MOST_PIXELS / (width * height)), MOST_SIDE / Math.max(width, height));
  const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = Math.round(width * scale);
    canvas.height = Math.round(height * scale);
    const context = canvas.getContext('2d');
    if (!context) return undefined;
    context.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((done) => canvas.toBlob((blob) => done(blob ?? undefined), 'image/png'));
  } catch {
    return undefined;
  } finally {
    URL.revokeObjectURL(address);
  }
}

export const fileName = (title: string, kind: string): string =>
  `years-${title.toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'chronology'}.${kind}`;
