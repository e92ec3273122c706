// tests/browser/screens.mjs - every screen: its address, its heading, and what it asks the program for.
//   To add a screen: a line here; the checks of states, access and pictures then cover it.
// SPDX-License-Identifier: Apache-2.0
import { quiet } from './harness.mjs';

/** `asks`: the request whose delay or failure the page has to show; `fails`: the sentence that it then says. */
export const SCREENS = [
  { name: 'bench', address: '/bench/p-0041', heading: /Sugar/, asks: '**/api/examine', fails: 'The odds could not be worked out.' },
  { name: 'bench-new', address: '/bench', heading: 'A new piece', asks: '**/api/book/vocabulary', fails: 'The book could not be read.' },
  { name: 'cupboard', address: '/cupboard', heading: 'Cupboard', asks: '**/api/pieces?*', fails: 'The cupboard could not be read.' },
  { name: 'piece', address: '/cupboard/p-0041', heading: /p-0041/, asks: '**/api/pieces/p-0041', fails: 'The piece could not be read.' },
  { name: 'lots', address: '/cupboard/lots', heading: 'Lots', asks: '**/api/lots', fails: 'The lots could not be read.' },
  { name: 'import', address: '/import', heading: 'Import and export' },
  { name: 'import-treatments', address: '/import?into=treatments', heading: 'Import and export' },
  { name: 'changes', address: '/cupboard/changes', heading: 'Changes', asks: '**/api/changes?*', fails: 'The history could not be read.' },
  { name: 'book', address: '/book', heading: 'Book', asks: '**/api/book', fails: 'The book could not be read.' },
  { name: 'treatments', address: '/book/treatments', heading: 'Treatments', asks: '**/api/book/treatments?*', fails: 'Treatments could not be read.' },
  { name: 'ornaments', address: '/book/ornaments', heading: 'Ornaments', asks: '**/api/book/ornaments?*', fails: 'Ornaments could not be read.' },
  { name: 'glazes', address: '/book/glazes', heading: 'Glazes', asks: '**/api/book/glazes?*', fails: 'Glazes could not be read.' },
  { name: 'dated-uses', address: '/book/dated-uses', heading: 'Dated uses', asks: '**/api/book/dated-uses?*', fails: 'Dated uses could not be read.' },
  { name: 'statements', address: '/book/statements', heading: 'Statements', asks: '**/api/book/statements?*', fails: 'Statements could not be read.' },
  { name: 'treatment', address: '/book/treatments/t-117', heading: /117/, asks: '**/api/book/treatments/t-117', fails: 'The treatment could not be read.' },
  { name: 'ornament', address: '/book/ornaments/fern-pair', heading: 'Fern pair', asks: '**/api/book/ornaments/fern-pair', fails: 'The ornament could not be read.' },
  { name: 'shape', address: '/book/shapes/harrow', heading: 'Harrow', asks: '**/api/book/shapes/harrow', fails: 'The shape could not be read.' },
  { name: 'glaze', address: '/book/glazes/oat', heading: 'Oat', asks: '**/api/book/glazes/oat', fails: 'The glaze could not be read.' },
  { name: 'maker', address: '/book/makers/kettlewharf', heading: 'Kettlewharf Pottery', asks: '**/api/book/makers/kettlewharf', fails: 'The maker could not be read.' },
  { name: 'mark', address: '/book/marks/m-3', heading: /HARROW/, asks: '**/api/book/marks/m-3', fails: 'The mark could not be read.' },
  { name: 'source', address: '/book/sources/s-history', heading: /Clay and Gold/, asks: '**/api/book/sources/s-history', fails: 'The source could not be read.' },
  { name: 'edit', address: '/book/edit', heading: 'Edit the Book', asks: '**/api/editing', fails: 'The packs could not be read.' },
  { name: 'edit-table', address: '/book/edit/ambrel-valley/treatments', heading: 'Treatments', asks: '**/api/editing/ambrel-valley/treatments?*', fails: 'The table could not be read.' },
  { name: 'edit-row', address: '/book/edit/ambrel-valley/treatments/26', heading: /^\d+ /, asks: '**/api/editing/ambrel-valley/treatments?line=26', fails: 'The row could not be read.' },
  { name: 'edit-new', address: '/book/edit/ambrel-valley/ornaments/new', heading: 'New ornament', asks: '**/api/editing', fails: 'The packs could not be read.' },
  { name: 'review', address: '/book/review', heading: 'Review the pieces', asks: '**/api/reexaminations', fails: 'The review could not be read.' },
  { name: 'compare', address: '/book/compare?t=t-117&t=t-157&form=sugar', heading: 'Compare', asks: '**/api/apart', fails: 'The comparison could not be read.' },
  { name: 'key', address: '/book/key?shape=harrow&form=sugar', heading: /^Key to Harrow/, asks: '**/api/key?*', fails: 'The key could not be read.' },
  { name: 'photographs', address: '/photographs', heading: 'Many photographs', asks: '**/api/readings', fails: 'The queue could not be read.' },
  { name: 'years', address: '/years', heading: 'Years', asks: '**/api/book/vocabulary', fails: 'The book could not be read.' },
  { name: 'years-ornament', address: '/years?of=ornament:fern-pair', heading: /^Fern pair/, asks: '**/api/years?*', fails: 'The years could not be read.' },
  { name: 'years-maker', address: '/years?of=maker:kettlewharf', heading: /^Kettlewharf/ },
  { name: 'years-cupboard', address: '/years?of=cupboard', heading: /upboard/ },
  { name: 'care', address: '/care', heading: 'Care', asks: '**/api/care/regimes', fails: 'The limits could not be read.' },
  { name: 'services', address: '/services', heading: 'Services', asks: '**/api/services', fails: 'The services could not be read.' },
  { name: 'service', address: '/services/fern-rosette', heading: /^Fern pair with rosette/, asks: '**/api/services/fern-rosette', fails: 'The service could not be read.' },
  { name: 'compositions', address: '/services/compositions', heading: 'Compositions', asks: '**/api/compositions', fails: 'The compositions could not be read.' },
  { name: 'find', address: '/services/found', heading: 'A find', asks: '**/api/services', fails: 'The services could not be read.' },
  { name: 'wants', address: '/services/wants', heading: 'Wants list', asks: '**/api/allotments', fails: 'The wants list could not be read.' },
  { name: 'allotments', address: '/services/compare', heading: 'Two allotments' },
  { name: 'worth', address: '/worth', heading: 'Worth', asks: '**/api/sales/vocabulary', fails: 'The words of sales could not be read.' },
  { name: 'worth-piece', address: '/worth?piece=p-0041', heading: 'Worth', asks: '**/api/worth/estimate', fails: 'Nothing could be estimated.' },
  { name: 'sales', address: '/worth/sales', heading: 'Sales', asks: '**/api/sales?*', fails: 'The sales could not be read.' },
  { name: 'doubtful', address: '/worth/sales/doubtful', heading: 'Doubtful sales', asks: '**/api/sales/doubtful', fails: 'The doubtful sales could not be read.' },
  { name: 'prices', address: '/worth/history?form=dinner-plate', heading: 'Prices through the years', asks: '**/api/worth/history?*', fails: 'The prices could not be read.' },
  { name: 'haul', address: '/worth/haul', heading: 'Box lots', asks: '**/api/sales/vocabulary', fails: 'The words of sales could not be read.' },
  { name: 'schedule', address: '/worth/schedule', heading: 'What you have', asks: '**/api/worth/schedule*', fails: 'The schedule could not be read.' },
  { name: 'letters', address: '/letters', heading: 'Letters', asks: '**/api/letters*', fails: 'The letters could not be read.' },
  { name: 'letter-new', address: '/letters/new', heading: 'A letter came' },
  { name: 'papers', address: '/papers', heading: 'Papers', asks: '**/api/papers', fails: 'The papers could not be read.' },
  { name: 'people', address: '/people', heading: 'People', asks: '**/api/people', fails: 'The accounts could not be read.' },
  { name: 'backups', address: '/backups', heading: 'Backups', asks: '**/api/backups', fails: 'The backups could not be read.' },
  { name: 'settings', address: '/settings', heading: 'Settings', asks: '**/api/settings', fails: 'The settings could not be read.' },
  { name: 'help', address: '/help', heading: 'Help' },
  { name: 'missing', address: '/nowhere', heading: 'There is no such page' },
];

export const settled = async (page) => {
  await quiet(page);
  await page.evaluate(() => document.fonts.ready);
};
