/**
 * Colours and shapes of form and answer. A page sets what begins with --upstroke- on the element; everything else takes
 * them from the names on the left.
 */

export const theme = `
:host {
  --ink: var(--upstroke-ink, #1d2a2f);
  --quiet: var(--upstroke-quiet, #4d5c62);
  --paper: var(--upstroke-paper, #ffffff);
  --band: var(--upstroke-band, #f3f1ea);
  --line: var(--upstroke-line, #b9b5a8);
  --border: var(--upstroke-border, #6f7a7e);
  --accent: var(--upstroke-accent, #0b5c6b);
  --on-accent: var(--upstroke-on-accent, #ffffff);
  --fault: var(--upstroke-fault, #a3190f);
  --radius: var(--upstroke-radius, 4px);
  --font: var(--upstroke-font, system-ui, sans-serif);
  display: block;
  background: var(--paper);
  color: var(--ink);
  font: 1rem/1.5 var(--font);
  overflow-wrap: break-word;
}

:host([hidden]) { display: none; }
* { box-sizing: border-box; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
h2, h3 { line-height: 1.25; text-wrap: balance; }
h2:focus-visible, h3:focus-visible { outline-offset: 4px; }

.unseen {
  position: absolute;
  width: 1px;
  height: 1px;
  margin: -1px;
  overflow: hidden;
  clip-path: inset(50%);
  white-space: nowrap;
}

@media (forced-colors: active) {
  :focus-visible { outline-color: Highlight; }
}
`;
