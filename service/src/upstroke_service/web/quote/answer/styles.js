/** How an answer looks, on the names of ../theme.js: text of a stylesheet, for screen, print and forced colours. */

export const answerStyles = `
.answer { container-type: inline-size; max-width: 72rem; }
.answer h2 { font-size: 1.6rem; margin: 0 0 .5rem; }
.answer h3 { font-size: 1.25rem; margin: 0 0 .5rem; }
.answer h4 { font-size: 1rem; margin: 1.25rem 0 .25rem; }
.answer section { padding: 1.5rem 0; border-top: 1px solid var(--line); }
.answer section.verdict { border-top: 0; padding-top: 0; }

/* What is far below is laid out when it comes near, so that the verdict is on screen at once. */
@media screen {
  .answer section:is(.hookup, .shopping, .cautions, .questions) {
    content-visibility: auto; contain-intrinsic-block-size: auto 60rem; overflow-clip-margin: 1rem;
  }
}

.answer p { margin: .35rem 0; }
.answer p, .answer li { max-width: 44rem; }
.answer ul, .answer ol { margin: .35rem 0; padding-left: 1.4rem; }
.answer li { margin: .3rem 0; }
.answer .lead { font-size: 1.1rem; }
.answer bdi { overflow-wrap: anywhere; }
.answer .quiet { color: var(--quiet); font-size: .9rem; }

.answer .invented { border-left: 4px solid var(--border); padding: .1rem 0 .1rem .75rem; }
.answer .ways { list-style: none; padding: 0; margin: .75rem 0 0; }
.answer .way {
  font: inherit; text-align: left; color: var(--accent); background: none; border: 0; padding: .2rem 0; min-height: 0;
  text-decoration: underline; text-underline-offset: .15em; cursor: pointer;
}
.answer .reference {
  font: inherit; font-size: .75rem; color: var(--accent); background: none; border: 0; padding: .1rem; min-height: 0;
  cursor: pointer;
}

.answer dl { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(9.5rem, 45%), 1fr)); gap: 1rem; margin: .75rem 0; }
.answer dt { font-size: .9rem; color: var(--quiet); }
.answer dd { margin: 0; }
.answer dd b { display: block; font-size: 1.6rem; line-height: 1.2; font-variant-numeric: tabular-nums; }
.answer dd .quiet { display: block; }

.answer table { border-collapse: collapse; font-variant-numeric: tabular-nums; }
.answer caption { text-align: left; font-weight: 600; padding: .25rem 0; }
.answer th, .answer td { text-align: left; vertical-align: top; padding: .35rem .9rem .35rem 0; border-bottom: 1px solid var(--line); }
.answer tbody th { font-weight: 400; }
.answer th .quiet { display: block; }
.answer .wide { overflow-x: auto; margin: .5rem 0; }
.answer .wide td { white-space: nowrap; }
.answer .wide tbody th { min-width: 9rem; }
.answer .depths :is(td, tbody th) { white-space: normal; min-width: 0; }
.answer .sum td { text-align: right; padding-right: 0; white-space: nowrap; }
.answer .sum .total :is(th, td) { font-weight: 600; border-bottom-color: var(--ink); }
.answer .key { display: flex; gap: .6rem; align-items: flex-start; }
.answer .swatch { flex: none; margin-top: .2rem; }

.answer .bars { list-style: none; padding: 0; margin: 1.25rem 0 .5rem; }
.answer .bars > li { max-width: none; margin: 0 0 1.25rem; }
.answer .bars p { margin: 0; }
.answer .outcome { font-size: .85rem; white-space: nowrap; }
.answer :is(.outcome, .effect)::before { content: "· "; }
.answer svg { display: block; overflow: visible; }
.answer svg.patterns { position: absolute; }
.answer .room { fill: var(--paper); stroke: var(--border); stroke-dasharray: 3 3; }
.answer .part { stroke: var(--ink); stroke-width: 1; }
.answer .part.water { fill: var(--accent); }
.answer .part.less { stroke-dasharray: 4 3; fill: var(--paper); fill-opacity: .8; }
.answer .pattern rect { fill: var(--paper); }
.answer .pattern path { stroke: var(--ink); stroke-width: 1.4; fill: none; }
.answer .pattern circle { fill: var(--ink); }
.answer .pattern.losses path { stroke-width: 2.2; }
.answer .rated { stroke: var(--ink); stroke-width: 3; }
.answer svg text { font-size: 13px; fill: var(--ink); font-variant-numeric: tabular-nums; }
.answer .label { paint-order: stroke; stroke: var(--paper); stroke-width: 4px; stroke-linejoin: round; }
.answer .label.on { font-weight: 600; stroke-width: 6px; }
.answer .label.on.water { fill: var(--on-accent); stroke: none; }

.answer .plot { padding: 0 1rem 0 5.5rem; margin: .75rem 0; max-width: 46rem; }
.answer .plot > svg { touch-action: pan-y; cursor: crosshair; margin-top: .6rem; }
.answer .axis { margin-left: -5.5rem; font-size: .9rem; color: var(--quiet); }
.answer .grid, .answer .notch { stroke: var(--line); }
.answer .line { fill: none; stroke: var(--accent); stroke-width: 3; vector-effect: non-scaling-stroke; }
.answer .missed { stroke: var(--ink); stroke-width: 2; stroke-dasharray: 6 4; }
.answer .cross { stroke: var(--ink); }
.answer .dot { fill: var(--paper); stroke: var(--ink); stroke-width: 3; }
.answer .reading { max-width: 46rem; }
.answer .reading label { display: block; }
.answer .reading input { display: block; width: 100%; height: 1.75rem; margin: 0; accent-color: var(--accent); }
.answer output { display: grid; grid-template-columns: repeat(auto-fit, minmax(7rem, 1fr)); gap: .25rem 1rem; margin: .25rem 0 .75rem; }
.answer output b { display: block; font-variant-numeric: tabular-nums; }

.answer details { margin: .35rem 0; }
.answer summary { cursor: pointer; color: var(--accent); padding: .2rem 0; width: fit-content; }
.answer .conditions { border-left: 4px solid var(--ink); padding-left: .9rem; margin: .75rem 0; }
.answer .conditions h4 { margin-top: 0; }
.answer .covers { list-style: none; padding: 0; }
.answer .covers li { display: flex; gap: .6rem; }
.answer .covers b { min-width: 2.6rem; text-align: right; }
.answer .household .quiet { display: block; }
.answer .effect { font-size: .85rem; color: var(--quiet); }

.answer .cautions ul { list-style: none; padding: 0; }
.answer .cautions li { padding: .35rem 0 .35rem .9rem; border-left: 1px solid var(--border); margin: .75rem 0; }
.answer .cautions li.danger { border-left-width: 10px; border-color: var(--ink); }
.answer .cautions li.warning { border-left-width: 6px; border-color: var(--ink); }
.answer .cautions li.caution { border-left-width: 3px; }
.answer .signal { text-transform: uppercase; letter-spacing: .04em; }
.answer .cautions .text { font-weight: 600; }
.answer .reason { display: flex; flex-wrap: wrap; align-items: baseline; gap: 0 1rem; }
.answer .reason > * { margin: .1rem 0; }
.answer .reason > details[open] { flex-basis: 100%; }

.answer .scope p { font-size: .85rem; }
.answer .scope p span { display: inline-block; margin-right: 1.25rem; color: var(--quiet); overflow-wrap: anywhere; }

@container (min-width: 56rem) {
  .answer .beside { display: grid; grid-template-columns: 22rem minmax(0, 1fr); gap: 3rem; align-items: start; }
  .answer .beside.wider { grid-template-columns: minmax(0, 1fr) 18rem; }
  .answer .beside .bars { margin-top: .25rem; }
  .answer .beside.wider .reading { padding-top: 1.5rem; }
}

@container (max-width: 30rem) {
  .answer .shopping :is(th, td) { padding-right: .5rem; }
  .answer .shopping :is(thead th, td) { font-size: .9rem; }
}

@container (min-width: 44rem) {
  .answer .cautions li { display: grid; grid-template-columns: 9.5rem minmax(0, 1fr); max-width: 54rem; }
  .answer .assumptions ul { columns: 2; column-gap: 2.5rem; }
  .answer .assumptions li { break-inside: avoid; }
}

@media (forced-colors: active) {
  .answer .part, .answer .rated, .answer .cross, .answer .dot, .answer .missed, .answer .line { stroke: CanvasText; }
  .answer .part.water { fill: CanvasText; }
  .answer .room, .answer .pattern rect, .answer .dot, .answer .part.less { fill: Canvas; }
  .answer .pattern path { stroke: CanvasText; }
  .answer .pattern circle, .answer svg text { fill: CanvasText; }
  .answer .label { stroke: Canvas; }
  .answer .label.on.water { fill: Canvas; }
}

@media print {
  .answer .reading, .answer .ways { display: none; }
  .answer details::details-content { content-visibility: visible; display: block; }
  .answer :is(.budget, .curve) details { display: none; }
  .answer section { break-inside: auto; }
  .answer h3, .answer h4 { break-after: avoid; }
  .answer li, .answer tr, .answer svg, .answer .sum, .answer .plot, .answer dl { break-inside: avoid; }
  .answer .wide { overflow: visible; }
}
`;
