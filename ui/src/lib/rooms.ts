// lib/rooms.ts - the rooms of the app: the bar at the top, the keys, the sheet of rooms on a phone and the help name them
//   from here. To add a room: a line here, its icon in parts/Icon.svelte, its routes in App.svelte.
// SPDX-License-Identifier: Apache-2.0

export type IconName = 'search' | 'sun' | 'moon' | 'more' | 'bench' | 'cupboard' | 'book' | 'services' | 'years' | 'worth' | 'care' | 'letters' | 'person' | 'help';
export type Room = {
  name: string; href: string; icon: IconName; key: string; says: string;
  within: string[]; // addresses that begin like this belong to it
  needs?: 'contributor'; // who else does not see it
  near: boolean; // in the bar of a phone; the others are in its sheet
};

export const ROOMS: readonly Room[] = [
  { name: 'Bench', href: '/', icon: 'bench', key: 'b', says: 'Examine one piece', within: ['/bench', '/photographs'], near: true },
  { name: 'Cupboard', href: '/cupboard', icon: 'cupboard', key: 'c', says: 'The pieces that you have', within: ['/cupboard'], near: true },
  { name: 'Book', href: '/book', icon: 'book', key: 'o', says: 'The reference', within: ['/book'], near: true },
  { name: 'Services', href: '/services', icon: 'services', key: 's', says: 'Services being built from what you have', within: ['/services'], near: false },
  { name: 'Years', href: '/years', icon: 'years', key: 'y', says: 'When each thing was made', within: ['/years'], near: true },
  { name: 'Worth', href: '/worth', icon: 'worth', key: 'w', says: 'What it may fetch, from the sales that are kept', within: ['/worth'], near: false },
  { name: 'Care', href: '/care', icon: 'care', key: 'a', says: 'Cautions, and what a laboratory measured', within: ['/care'], near: false },
  { name: 'Letters', href: '/letters', icon: 'letters', key: 'l', says: 'Questions from others, and the replies', within: ['/letters'], needs: 'contributor', near: false },
];
/** Further addresses that two keys lead to. */
export const KEYS: Readonly<Record<string, string>> = { k: '/book/key', ...Object.fromEntries(ROOMS.map((room) => [room.key, room.href])) };

export const roomOf = (path: string): Room | undefined =>
  ROOMS.find((room) => path === room.href || room.within.some((begin) => path === begin || path.startsWith(`${begin}/`)));
