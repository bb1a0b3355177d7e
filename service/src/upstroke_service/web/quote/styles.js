/** How the form looks, on the names of theme.js. */

export const formStyles = `
form, .reply { max-width: 62rem; }
form > h2 { font-size: 1.6rem; margin: 0 0 .5rem; }
p { margin: .35rem 0; }
form > p, .why p, .group > .quiet, fieldset > .quiet { max-width: 44rem; }
.quiet { color: var(--quiet); }
fieldset { border: 0; margin: 0; padding: 0; min-inline-size: 0; }
legend { padding: 0; }

.group { border-top: 1px solid var(--line); margin-top: 1.5rem; padding-top: 1.25rem; }
.group > legend, details.group > summary { font-size: 1.25rem; font-weight: 600; line-height: 1.25; }
fieldset.group { position: relative; }
fieldset.group > legend { float: left; width: 100%; margin-bottom: .85rem; }
fieldset.group > legend + * { clear: both; margin-top: 0; }
details.group > summary { cursor: pointer; color: var(--accent); }

.question { margin: 1.25rem 0 0; }
.question > label:first-child, .question > legend, .systems > legend { font-weight: 600; display: block; }
.why { margin: .1rem 0 .4rem; }
.why > summary { cursor: pointer; color: var(--accent); font-size: .9rem; width: fit-content; padding: .15rem 0; }
.why p { margin: .35rem 0 .35rem 1.1rem; font-size: .95rem; }

.row { display: flex; flex-wrap: wrap; align-items: center; gap: .5rem .6rem; }
.parts { display: flex; flex-wrap: wrap; gap: .75rem 1.5rem; }
.parts label { display: block; font-size: .9rem; }
.animals .parts { display: grid; grid-template-columns: repeat(auto-fill, minmax(8.5rem, 1fr)); }
input[type=text], select {
  font: inherit; color: var(--ink); background: var(--paper); border: 1px solid var(--border);
  border-radius: var(--radius); padding: .5rem .6rem; min-height: 2.75rem; max-width: 100%;
}
input[type=text] { width: 6.75rem; font-variant-numeric: tabular-nums; }
input:disabled, select:disabled { opacity: .55; border-style: dashed; }
input[aria-invalid], select[aria-invalid] { border: 2px solid var(--fault); }
input[type=radio], input[type=checkbox] { width: 1.25rem; height: 1.25rem; margin: 0; flex: none; accent-color: var(--accent); }

.choices { display: flex; flex-wrap: wrap; gap: 0 1.25rem; }
.why + .choices { margin-top: -.35rem; }
.choices label, .unsure { display: inline-flex; align-items: center; gap: .5rem; min-height: 2.4rem; cursor: pointer; }
.parts + .unsure { display: flex; width: fit-content; }
.fault { color: var(--fault); font-weight: 600; margin: .25rem 0 0; }
.fault:empty { display: none; }
[role=radiogroup][aria-invalid], fieldset:has(> .choices [aria-invalid]) { border-left: 3px solid var(--fault); padding-left: .75rem; }

.summary { border: 2px solid var(--fault); border-radius: var(--radius); padding: .75rem 1rem; margin: 1.5rem 0 0; }
.summary h3 { margin: 0; font-size: 1.1rem; }
.summary ul { margin: .35rem 0; padding-left: 1.2rem; }
.summary a { color: var(--ink); }
.summary li { margin: .3rem 0; }

.actions { display: flex; flex-wrap: wrap; gap: .75rem; align-items: center; margin: 1.75rem 0 0; }
button {
  font: inherit; font-weight: 600; min-height: 2.75rem; padding: .5rem 1.25rem; cursor: pointer; color: var(--accent);
  background: var(--paper); border: 1px solid var(--accent); border-radius: var(--radius);
}
button.main { color: var(--on-accent); background: var(--accent); }
button[aria-disabled=true] { opacity: .6; cursor: default; }
.status { min-height: 1.5rem; margin: .5rem 0; }
.problem { border: 2px solid var(--border); border-radius: var(--radius); padding: .75rem 1rem; }
.problem h3 { margin: 0; font-size: 1.1rem; }
.reply:not(:empty) { border-top: 1px solid var(--line); padding-top: 1.25rem; }
.reply.awaited { min-height: 100vh; }

@media (pointer: coarse) {
  .choices label, .unsure { min-height: 2.75rem; }
}
@media (forced-colors: active) {
  button.main { border: 2px solid ButtonText; }
}
@media print {
  form, .reply > .actions, .status { display: none; }
}
`;
