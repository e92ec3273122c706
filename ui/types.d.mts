// SPDX-License-Identifier: Apache-2.0
export const made: URL;
export function types(): Promise<string>;
