/**
 * What the form asks, what matters most first. Words stand in languages/, limits and words to choose from come from the
 * service: here is only what belongs to which fact, and when it is asked.
 *
 * A question has one field or several; `together`: all of them or none. `essential`: wants an answer, if only "not
 * sure"; all others may stay empty. `when` decides by what was chosen elsewhere whether it is asked at all.
 */

const LENGTH = { us: 'ft', si: 'm' };
const BORE = { us: 'in', si: 'mm' };
const PRESSURE = { us: 'psi', si: 'kPa', also: ['bar'] };
const VOLUME = { us: 'gal', si: 'L' };

const quantity = (id, pointer, units, more = {}) => one({ id, kind: 'quantity', pointer, units }, more);
const choice = (id, pointer, more = {}) => one({ id, kind: 'choice', pointer }, more);
const count = (id, pointer, more = {}) => one({ id, kind: 'count', pointer }, more);
const one = (field, more) => ({ id: field.id, fields: [field], ...more });

const open = (chosen) => chosen('tank_kind') === 'open';
const closed = (chosen) => !open(chosen);
const supplied = (kind) => (chosen) => closed(chosen) && chosen('supply') === kind;
const placed = (kind) => (chosen) => closed(chosen) && (chosen('places') ?? []).includes(kind);
const essential = true;

const ANIMALS = [
  'beef_cow', 'dairy_cow', 'calf', 'horse', 'sheep', 'goat', 'sow', 'pig', 'laying_hen', 'turkey',
];

export const GROUPS = [
  {
    id: 'water',
    questions: [quantity('level', '/well/static_water_level', LENGTH, { essential })],
  },
  {
    id: 'tank',
    questions: [
      choice('tank_kind', '/tank/kind', { essential }),
      quantity('tank_volume', '/tank/total_volume', VOLUME, { essential }),
      count('tank_count', '/tank/count', { when: closed }),
      choice('supply', '/site/supply/kind', { essential, when: closed }),
      quantity('cut_in', '/site/supply/cut_in', PRESSURE, { when: supplied('pressure_switch') }),
      quantity('cut_out', '/site/supply/cut_out', PRESSURE, { when: supplied('pressure_switch') }),
      quantity('set_pressure', '/site/supply/set_pressure', PRESSURE, { when: supplied('constant_pressure') }),
      quantity('precharge', '/tank/precharge', PRESSURE, { when: closed }),
      quantity('target', '/pressures/target', PRESSURE, { when: closed }),
    ],
  },
  {
    id: 'way',
    questions: [
      one({ id: 'places', kind: 'places', pointer: '/site/connections/0/kind' }, { essential, when: closed }),
      choice('spigot_breaker', '/site/connections/0/vacuum_breaker', { of: 'spigot', when: placed('spigot') }),
      choice('hydrant_breaker', '/site/connections/0/vacuum_breaker', {
        of: 'yard_hydrant',
        when: placed('yard_hydrant'),
      }),
      {
        id: 'hose',
        essential,
        together: true,
        fields: [
          { id: 'hose_length', kind: 'quantity', pointer: '/conduit/runs/0/length', units: LENGTH },
          { id: 'hose_bore', kind: 'quantity', pointer: '/conduit/runs/0/inside_diameter', units: BORE },
          { id: 'hose_material', kind: 'pick', pointer: '/conduit/runs/0/material', first: 'hose' },
        ],
      },
      one({ id: 'rise', kind: 'quantity', pointer: '/conduit/rise', units: LENGTH, signed: true }, {}),
      choice('check_valve', '/conduit/check_valve'),
    ],
  },
  {
    id: 'people',
    questions: [choice('profile', '/operator/profile'), count('turns', '/operator/people')],
  },
  {
    id: 'safety',
    questions: [
      choice('public_main', '/site/public_water_connection', { essential }),
      choice('relief', '/site/relief_valve/fitted', { when: closed }),
      quantity('relief_pressure', '/site/relief_valve/set_pressure', PRESSURE, {
        when: (chosen) => closed(chosen) && chosen('relief') === 'yes',
      }),
      quantity('tank_rating', '/tank/maximum_working_pressure', PRESSURE, { when: closed }),
      choice('tank_condition', '/tank/condition', { when: closed }),
      choice('electric_pump', '/site/electric_pump/present'),
      choice('freezes', '/site/freezes'),
      choice('overhead_lines', '/site/overhead_lines'),
      choice('pit', '/site/well_pit'),
    ],
  },
  {
    id: 'needs',
    folded: true,
    questions: [
      count('household', '/needs/people'),
      choice('need_level', '/needs/level'),
      {
        id: 'animals',
        fields: ANIMALS.map((kind) => ({ id: kind, kind: 'count', pointer: '/needs/herds/0/count', of: kind })),
      },
      one({ id: 'floor', kind: 'quantity', pointer: '/needs/floor_rise', units: LENGTH, signed: true }, {}),
    ],
  },
  {
    id: 'details',
    folded: true,
    questions: [
      quantity('casing', '/well/casing_inside_diameter', BORE),
      quantity('well_depth', '/well/well_depth', LENGTH),
      quantity('yield', '/well/sustained_yield', { us: 'gpm', si: 'L/min' }),
      quantity('capacity', '/well/specific_capacity', { us: 'gpm/ft', si: 'L/s/m' }),
      quantity('outlet', '/pump/outlet_height', { us: 'in', si: 'cm', also: ['ft', 'm'] }),
      quantity('hose_rating', '/conduit/hose_pressure_rating', PRESSURE, { when: closed }),
      quantity('elevation', '/well/site_elevation', LENGTH),
      quantity('temperature', '/well/water_temperature', { us: 'degF', si: 'degC' }),
      choice('pump_kind', '/pump/kind'),
    ],
  },
];
