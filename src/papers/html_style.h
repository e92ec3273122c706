// papers/html_style.h - the style sheet of every paper as HTML. Private to this room.
// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace footring::papers {

inline constexpr const char* kHtmlStyle =
    R"css(:root { color-scheme: light dark; --ink: #1c1a17; --faint: #5f5850; --rule: #b8ae9f; --accent: #7c4424;
  --paper: #fbf8f2; --wash: #f4efe6 }
@media (prefers-color-scheme: dark) {
  :root { --ink: #ece6db; --faint: #b3a99b; --rule: #5d564c; --accent: #dca27c; --paper: #1b1916; --wash: #26231f }
}
* { box-sizing: border-box }
body { margin: 0 auto; padding: 2rem 1rem 3rem; max-width: 54rem; background: var(--paper); color: var(--ink);
  font: 1.06rem/1.5 "EB Garamond", "EB Garamond 12", Garamond, Georgia, serif; font-variant-numeric: oldstyle-nums }
h1, h2, h3, h4 { font-weight: 400; line-height: 1.2; text-wrap: balance; break-after: avoid }
h1 { font-size: 2.5rem; margin: .1em 0 }
h2 { font-size: 1.75rem; margin: 2.2em 0 .4em; padding-top: .35em; border-top: 1.5px solid var(--accent) }
h3 { font-size: 1.3rem; font-style: italic; margin: 1.6em 0 .3em }
h4 { font-size: 1.06rem; font-weight: 700; margin: 1.2em 0 .2em }
h2 small, h3 small, h4 small { font: italic 1rem/1.2 inherit; color: var(--faint); margin-left: .5em }
p { margin: .5em 0; max-width: 38rem; hyphens: auto }
a { color: var(--accent) }
header { border-bottom: 2px solid var(--ink); margin-bottom: 1.5rem }
.kind, .aside, .corner, table, dt, figcaption, footer, .label p {
  font-family: Lato, "Helvetica Neue", Arial, sans-serif; font-variant-numeric: lining-nums tabular-nums }
.kind { color: var(--accent); font-weight: 700; font-size: .78rem; letter-spacing: .1em }
.subtitle { font-style: italic; font-size: 1.2rem; color: var(--faint) }
.lead { font-size: 1.2rem }
.note { font-size: .92rem; color: var(--faint) }
.listed { padding-left: 8.5rem; max-width: 46rem; margin: .25em 0; break-inside: avoid }
.listed .aside { float: left; width: 8rem; margin-left: -8.5rem; padding-top: .22rem }
.caution { background: var(--wash); border-left: 3px solid var(--accent); padding: .6em .9em; max-width: 40rem }
.aside, dt, .corner { font-size: .78rem; color: var(--faint) }
nav ol { list-style: none; padding: 0; columns: 2 18rem }
nav .level-2 { padding-left: 1.2em; font-size: .95rem }
dl { display: grid; grid-template-columns: minmax(6rem, 10rem) 1fr; gap: .2em 1em; margin: .6em 0 }
dt { padding-top: .35em } dd { margin: 0 }
.scroll { overflow-x: auto; margin: 1em 0 }
table { border-collapse: collapse; width: 100%; font-size: .86rem; line-height: 1.4 }
caption { text-align: left; font: italic 1.05rem/1.4 "EB Garamond", Georgia, serif; padding-bottom: .2em }
th, td { text-align: left; vertical-align: top; padding: .3em .8em .3em 0; border-bottom: 1px solid var(--rule) }
th { color: var(--faint); border-bottom: 1.5px solid var(--ink) }
.compact td:first-child, .number { white-space: nowrap }
.compact td { padding-top: .1em; padding-bottom: .1em }
.number { text-align: right }
tfoot td { font-weight: 700; border-top: 1.5px solid var(--ink) }
tr, figure, .card, .caution, .entry { break-inside: avoid }
img { max-width: 100%; height: auto; display: block }
.figures { display: flex; flex-wrap: wrap; gap: 1.2rem; margin: 1em 0; align-items: flex-end }
figure { margin: 0; width: var(--each); max-width: 100% }
figure:has(> .chart) { overflow-x: auto } .chart { background: #fff; max-width: none; min-width: 34rem }
figcaption { font-size: .78rem; line-height: 1.4; padding-top: .3em }
.marked { position: relative } .marked span { position: absolute; translate: -50% -50%; width: 1.7em; height: 1.7em;
  border: 2px solid #7c4424; border-radius: 50%; background: #fffc; color: #7c4424; font: 700 .78rem/1.5 Lato, sans-serif; text-align: center }
.entry { display: grid; grid-template-columns: 9rem 1fr; gap: 1.4rem; margin: 1.4em 0; align-items: start }
.entry > div > :first-child, .card > div > :first-child { margin-top: 0 }
.card { display: flex; gap: 1.2rem; border: 1px solid var(--rule); padding: .9rem 1.1rem; margin: 1em 0; position: relative }
.card > div { flex: 1 } .card > img { flex: none; align-self: flex-start }
.corner { float: right; margin: 0 0 .3em 1em }
.space { margin: .6em 0; min-height: calc(var(--lines) * 1.7em);
  background: repeating-linear-gradient(transparent 0 calc(1.7em - 1px), var(--rule) calc(1.7em - 1px) 1.7em) }
footer { margin-top: 3rem; border-top: 1px solid var(--rule); font-size: .78rem; color: var(--faint) }
.sheets { overflow-x: auto; color: #1c1a17 } .sheet { background: #fff }
.sheet { position: relative; width: 210mm; height: 297mm; break-after: page }
.label { position: absolute; display: flex; align-items: center; gap: 2mm; padding: 0 2.2mm; overflow: hidden }
.label.outlined { outline: .1mm solid #b8ae9f }
.label > div { flex: 1 } .label p { margin: 0; font-size: 7.4pt; line-height: 1.27 }
.label .name { font: 12pt/1.12 "EB Garamond", Georgia, serif } .label .price { font: 700 15pt/1.2 "EB Garamond", Georgia, serif }
@media (max-width: 30rem) { .listed { padding-left: 5.5rem } .listed .aside { width: 5.2rem; margin-left: -5.5rem }
  .entry { grid-template-columns: 5rem 1fr } dl { grid-template-columns: 1fr } .card { flex-direction: column } }
@media print {
  :root { --ink: #000; --faint: #444; --rule: #999; --accent: #5f3319; --paper: #fff; --wash: #f4efe6 }
  body { padding: 0; max-width: none; font-size: 10.8pt } .page-break { break-before: page }
}
)css";

}  // namespace footring::papers
