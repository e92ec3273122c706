// Makes src/lib/openapi.ts from the server's description of itself: `npm run types`. A test holds the two together.
// SPDX-License-Identifier: Apache-2.0
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';
import openapi, { astToString } from 'openapi-typescript';

const description = new URL('../src/server/openapi.json', import.meta.url);
export const made = new URL('src/lib/openapi.ts', import.meta.url);

export async function types() {
  const ast = await openapi(JSON.parse(readFileSync(description, 'utf8')));
  return `// Made from src/server/openapi.json by \`npm run types\`; do not edit.\n// SPDX-License-Identifier: Apache-2.0\n${astToString(ast)}`;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) writeFileSync(fileURLToPath(made), await types());
