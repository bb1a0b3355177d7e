/** Round numbers along an axis. */

const STEPS = [1, 2, 2.5, 5, 10];

/** The step between round numbers that divides `span` into at most `most` parts. */
function step(span, most) {
  const power = 10 ** Math.floor(Math.log10(span / most));
  return STEPS.map((one) => one * power).find((one) => span / one <= most * (1 + 1e-9));
}

/** Round numbers from `low` up to `high` at most; with `around` the first and the last enclose the two. */
export function ticks(low, high, most, around = false) {
  const size = step(high - low, most);
  const first = around ? Math.floor(low / size + 1e-9) : Math.ceil(low / size - 1e-9);
  const last = around ? Math.ceil(high / size - 1e-9) : Math.floor(high / size + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, index) => (first + index) * size);
}

/** The value of `column` where `along`, which never falls, stands at `at`. */
export function between(at, along, column) {
  const after = Math.max(1, along.findIndex((one) => one >= Math.min(at, along.at(-1))));
  const [low, high] = [along[after - 1], along[after]];
  const share = high > low ? (at - low) / (high - low) : 0;
  return column[after - 1] + share * (column[after] - column[after - 1]);
}
