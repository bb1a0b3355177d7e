/** Units of the form's questions as people write them, and numbers as people type them. */

const SPELLINGS = {
  ft: ['ft', 'ft.', 'foot', 'feet', "'", '′', 'pie', 'pies'],
  in: ['in', 'in.', 'inch', 'inches', '"', '″', 'pulgada', 'pulgadas', 'pulg', 'plg'],
  m: ['m', 'm.', 'meter', 'meters', 'metre', 'metres', 'metro', 'metros'],
  cm: ['cm', 'centimeter', 'centimeters', 'centimetre', 'centimetres', 'centímetro', 'centímetros'],
  mm: ['mm', 'millimeter', 'millimeters', 'millimetre', 'millimetres', 'milímetro', 'milímetros'],
  psi: ['psi', 'lb/in2', 'lbs', 'lb', 'libras', 'pounds'],
  kPa: ['kpa'],
  bar: ['bar', 'bars', 'bares'],
  gal: ['gal', 'gal.', 'gallon', 'gallons', 'galón', 'galon', 'galones'],
  fl_oz: ['fl oz', 'fl_oz'],
  L: ['l', 'l.', 'liter', 'liters', 'litre', 'litres', 'litro', 'litros', 'lt', 'lts'],
  mL: ['ml'],
  m3: ['m3', 'm³'],
  gpm: ['gpm', 'gal/min'],
  'L/min': ['l/min', 'lpm'],
  'L/s': ['l/s', 'lps'],
  degF: ['°f', 'f', 'degf'],
  degC: ['°c', 'c', 'degc'],
};

/** The unit that `text` spells; undefined where nobody writes one so. */
export function unitSpelled(text) {
  const wanted = text.trim().toLowerCase();
  return Object.keys(SPELLINGS).find((unit) => SPELLINGS[unit].includes(wanted));
}

/**
 * What was typed: `{ value, unit }`, `unit` only where one was typed with it; `{ fault }` names what can't be read:
 * 'number', 'ambiguous' (1,500 is either) or 'unit' with the `word`.
 */
export function read(text) {
  const [, written, word] = /^([-+−]?[\d.,\s/–-]*)(.*)$/u.exec(text.trim().replace(/\s+/g, ' '));
  const { value, fault } = numberRead(written.trim().replace(/^−/, '-'));
  if (fault) return { fault };
  if (!word) return { value };
  const unit = unitSpelled(word);
  return unit ? { value, unit } : { fault: 'unit', word };
}

function numberRead(written) {
  const fraction = /^(?:(\d+)[ -])?(\d+)\/([1-9]\d*)$/.exec(written);
  if (fraction) return { value: Number(fraction[1] ?? 0) + Number(fraction[2]) / Number(fraction[3]) };
  if (/^[-+]?\d{1,3},\d{3}$/.test(written)) return { fault: 'ambiguous' };
  const plain = written.replace(/^([-+]?\d*),(\d+)$/, '$1.$2');
  return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(plain) ? { value: Number(plain) } : { fault: 'number' };
}
