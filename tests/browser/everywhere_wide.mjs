// Every screen in a wide window: a file of its own, so that the two sizes run side by side.
// SPDX-License-Identifier: Apache-2.0
import { WIDE } from './harness.mjs';
import { everywhere } from './everywhere.mjs';

everywhere(WIDE, 'wide');
