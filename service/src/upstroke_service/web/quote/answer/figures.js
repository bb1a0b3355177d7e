/** Numbers as a reader likes them: rounded for the eye, spelled by the reader's language, with their units. */

/** Digits after the point by unit, as in the sentences of the service; below SMALL at least one. */
const DIGITS = { m: 1, in: 2, gal: 1, fl_oz: 1, gpm: 1, 'L/min': 1 };
const SMALL = 10;
const LONGEST_IN_MINUTES = 90;

/** What writes numbers in the language of `words`. */
export function figures(words) {
  const formats = new Map();

  /** With at most so many digits after the point, and with at least `least`. */
  function number(value, most = 0, least = 0) {
    const key = `${most} ${least}`;
    if (!formats.has(key)) {
      formats.set(key, new Intl.NumberFormat(words.locale,
        { maximumFractionDigits: most, minimumFractionDigits: least, signDisplay: 'negative' }));
    }
    return formats.get(key).format(value);
  }

  const unit = (name) => words.units[name] ?? name;

  function quantity({ value, unit: name }) {
    const digits = DIGITS[name] ?? 0;
    return `${number(value, Math.abs(value) < SMALL ? Math.max(digits, 1) : digits)}\u00a0${unit(name)}`;
  }

  /** To one digit after the point, which columns that add up keep. */
  const tenths = ({ value, unit: name }) => `${number(value, 1, 1)}\u00a0${unit(name)}`;

  function duration(minutes) {
    if (minutes.value < LONGEST_IN_MINUTES) return quantity(minutes);
    const whole = Math.round(minutes.value);
    const rest = whole % 60;
    const hours = `${number(Math.floor(whole / 60))}\u00a0${unit('h')}`;
    return rest ? `${hours} ${number(rest)}\u00a0${unit('min')}` : hours;
  }

  function money(value, currency) {
    return new Intl.NumberFormat(words.locale, { style: 'currency', currency }).format(value);
  }

  return { number, unit, quantity, tenths, duration, money };
}
