/** What the form says in English. A file like this one, and one in answer/, make a language. */

export { words as answerWords } from '../answer/words-en.js';

export const words = {
  code: 'en',
  title: 'Which hand pump fits your well?',
  intro:
    'Answer what you can. What you don’t know or leave empty is estimated, and the answer says so. Your entries stay in ' +
    'this browser tab; only the figures are sent to work out the answer, no name and no address.',
  unsure: 'Not sure',
  optional: 'optional',
  why: 'Why we ask, and how to find out',
  unitOf: 'Unit of: {label}',
  unsureOf: 'Not sure: {label}',
  system: { label: 'Units', us: 'US: feet, gallons, psi', si: 'Metric: meters, liters, kPa' },
  direction: { label: 'Higher or lower: {label}', above: 'higher', below: 'lower' },
  submit: 'Work it out',
  clear: 'Clear the form',
  cleared: 'The form is empty.',
  more: 'More questions: {title}',

  units: {
    ft: 'ft', in: 'in', m: 'm', cm: 'cm', mm: 'mm', psi: 'psi', kPa: 'kPa', bar: 'bar', gal: 'gal', fl_oz: 'fl oz',
    L: 'L', mL: 'mL', m3: 'm³', gpm: 'gal/min', 'L/min': 'L/min', 'L/s': 'L/s', 'gpm/ft': 'gal/min per ft',
    'L/s/m': 'L/s per m', degF: '°F', degC: '°C',
  },

  groups: {
    water: { title: 'The water in the well' },
    tank: { title: 'What should be filled' },
    way: { title: 'From the pump to the tank' },
    people: { title: 'Who will pump' },
    safety: { title: 'What could become dangerous' },
    needs: {
      title: 'How much water you need',
      text: 'Tells how many strokes and minutes a day of water takes. It changes nothing about which pump fits.',
    },
    details: {
      title: 'The well and the pump in detail',
      text: 'Each of these makes the answer sharper. The driller’s log, which your county or state may also hold, has ' +
        'most of them.',
    },
  },

  questions: {
    level: {
      label: 'How deep is the water in the well, measured from the ground?',
      why: 'It is the largest part of the height that the water must be lifted. It can’t be guessed.',
      how: 'Look for “static water level” in the driller’s log or the county’s well record. A well contractor can ' +
        'measure it. Measure while the electric pump has been off for some hours. With “Not sure” you get a table by ' +
        'depth.',
    },
    tank_kind: {
      label: 'What kind of tank is it?',
      why: 'A pressure tank pushes back while you fill it; an open tank does not.',
      how: 'A tank with a tire valve on top, made in the last decades, usually has a bladder or diaphragm. An older ' +
        'galvanized tank usually holds air and water together.',
    },
    tank_volume: {
      label: 'How large is the tank?',
      open: 'How much water should each fill bring?',
      why: 'Strokes, minutes and stored water grow in step with it.',
      how: 'The label on the tank gives its total volume, air and water together. Of an open tank it is the water to ' +
        'bring.',
    },
    tank_count: {
      label: 'How many such tanks are there?',
      why: 'All of them fill together.',
      how: 'Count the pressure tanks that are joined by pipes.',
    },
    supply: {
      label: 'What keeps the pressure while there is power?',
      why: 'Its pressures set where a fill begins and where it should end.',
      how: 'A pressure switch is a small box with a cover on the pipe near the tank; the pressure rises and falls while ' +
        'water runs. A constant-pressure drive has an electronic controller, and the pressure hardly changes.',
    },
    cut_in: {
      label: 'At which pressure does the switch start the pump?',
      why: 'A fill begins near it.',
      how: 'Often on a sticker inside the switch’s cover, as the lower of two numbers such as 30/50. Leave the cover on: ' +
        'there is live voltage under it. Instead watch the gauge while water runs: the pump starts at the lowest reading.',
    },
    cut_out: {
      label: 'At which pressure does it stop the pump?',
      why: 'A fill should end near it.',
      how: 'Watch the gauge while the pump runs: it stops at the highest reading.',
    },
    set_pressure: {
      label: 'Which pressure does the drive hold?',
      why: 'A fill should end near it.',
      how: 'Read the gauge at the tank, or the controller’s display.',
    },
    precharge: {
      label: 'What is the tank’s air pressure when it is empty of water?',
      why: 'Below it nothing is stored. A wrong precharge costs water and effort.',
      how: 'With the power off and the tank drained, a tire gauge on the tank’s air valve shows it. Usually it is 2 psi ' +
        '(14 kPa) below the pressure at which the pump starts.',
    },
    target: {
      label: 'To which pressure do you want to fill?',
      why: 'Each further bit of pressure costs more effort and stores less water.',
      how: 'Leave it empty to fill as far as the electric pump does.',
    },
    places: {
      label: 'Where could the hose or pipe be connected?',
      why: 'It decides how the pump is connected, and which parts that takes.',
      how: 'Choose all that you have. The drain valve at the tank looks like a garden faucet low on the pipe beside it.',
    },
    spigot_breaker: {
      label: 'Does the outdoor faucet have a vacuum breaker?',
      why: 'A vacuum breaker lets water out only: nothing can be pumped in through it.',
      how: 'Look for a round brass or plastic piece screwed onto the faucet’s outlet, or a bell-shaped cap on top of it.',
    },
    hydrant_breaker: {
      label: 'Does the yard hydrant have a vacuum breaker?',
      why: 'A vacuum breaker lets water out only: nothing can be pumped in through it.',
      how: 'Look for a round piece screwed onto the hydrant’s outlet.',
    },
    hose: {
      label: 'How long and how wide inside is the hose or pipe from the pump to the tank?',
      why: 'Friction in a long or narrow hose costs effort at each stroke.',
      how: 'Pace the way: a long step is about 3 ft (0.9 m). Common garden hoses are 5/8 or 3/4 in (16 or 19 mm) ' +
        'wide inside; it is printed on many of them.',
    },
    rise: {
      label: 'How much higher or lower than the pump’s outlet is the tank’s gauge?',
      why: 'Each 2.3 ft (0.7 m) of rise costs as much as 1 psi (7 kPa) of pressure.',
      how: 'A tank in a basement is lower than a pump in the yard. Estimate by steps or floors.',
    },
    check_valve: {
      label: 'Will there be a check valve between the pump and the tank?',
      why: 'Without one the tank drains back through the pump, and the handle can kick.',
      how: 'An arrow for the direction of flow is cast into its body. If none is planned yet, say no.',
    },
    profile: {
      label: 'Who will pump most of the time?',
      why: 'It sets how hard somebody can pull, how fast and how long.',
      how: 'Think of the weakest person who may have to pump in an emergency.',
    },
    turns: {
      label: 'How many people take turns?',
      why: 'A long fill is easier when others rest meanwhile.',
      how: 'Count only those who will really be there when the power is out.',
    },
    public_main: {
      label: 'Is any pipe of the house also connected to a public water main?',
      why: 'Pumping well water into pipes that a public main feeds too is dangerous, and forbidden almost everywhere.',
      how: 'A water bill or a water meter means yes. Where nobody is sure, ask the water utility.',
    },
    relief: {
      label: 'Is there a pressure relief valve at the tank?',
      why: 'A hand pump has no switch that stops it. The relief valve keeps the tank from bursting.',
      how: 'Look for a valve on the pipe at the tank with a lever or a tag that states a pressure, and an open end that ' +
        'points down. The one on the water heater is another one.',
    },
    relief_pressure: {
      label: 'At which pressure does the relief valve open?',
      why: 'Pumping has to stop well below it.',
      how: 'It is stamped on the valve or its tag.',
    },
    tank_rating: {
      label: 'Which maximum working pressure is stamped on the tank?',
      why: 'Without it nobody should pump beyond the pressure that the tank sees every day.',
      how: 'The tank’s label calls it “maximum working pressure”.',
    },
    tank_condition: {
      label: 'What does the tank look like from outside?',
      why: 'A corroded tank can burst under pressure.',
      how: 'Look at the bottom, the seams and the fittings for rust, blisters and damp.',
    },
    electric_pump: {
      label: 'Does an electric pump hang in the same well?',
      why: 'It shares the casing, and its wiring must be switched off and locked before anyone opens the well.',
      how: 'A cable that enters the well cap means yes.',
    },
    freezes: {
      label: 'Can pipes at the surface freeze there?',
      why: 'Then the pump needs a way to drain below frost depth, and hoses must be emptied.',
      how: 'Say yes where winter nights stay below freezing.',
    },
    overhead_lines: {
      label: 'Do electric lines pass near or above the well?',
      why: 'Long pipes and rods are raised when a pump is set. Touching a line kills.',
      how: 'Look up, and count every wire as live.',
    },
    pit: {
      label: 'Does the head of the well, or the tank, stand in a pit?',
      why: 'The air in a pit can suffocate without warning.',
      how: 'Any place below ground that you climb into is a pit, even a shallow one.',
    },
    household: {
      label: 'How many people live there?',
      why: 'Each of them needs water every day.',
      how: 'Count guests you would take in as well.',
    },
    need_level: {
      label: 'How far should the water reach?',
      why: 'Drinking takes a few gallons a day, a household as usual many times that.',
      how: 'For an outage of a few days most people plan on the basics.',
    },
    animals: {
      label: 'How many animals need water?',
      why: 'A few large animals can need more than the household.',
      how: 'Leave empty what you don’t keep.',
    },
    floor: {
      label: 'How much higher or lower than the tank’s gauge is the floor where the water is used?',
      why: 'A higher floor needs more pressure for the same flow.',
      how: 'One storey is about 10 ft (3 m).',
    },
    casing: {
      label: 'How wide is the well casing inside?',
      why: 'The cylinder must pass beside whatever else hangs in the well.',
      how: 'Measure across the top of the pipe with the cap on, and subtract the walls, or read the driller’s log.',
    },
    well_depth: {
      label: 'How deep is the well?',
      why: 'The cylinder must hang in water and off the bottom.',
      how: 'The driller’s log states it.',
    },
    yield: {
      label: 'How much water does the well give for hours?',
      why: 'Nobody can pump more than flows in.',
      how: 'The driller’s log states it as yield.',
    },
    capacity: {
      label: 'How much does the well yield for each foot or meter that its water falls?',
      why: 'Pumping lowers the water, and that has to be lifted too.',
      how: 'Divide the yield by the drawdown, both from the driller’s pumping test.',
    },
    outlet: {
      label: 'How high above the ground is the pump’s outlet?',
      why: 'It adds to the lift.',
      how: 'Leave it empty where the pump is not chosen yet.',
    },
    hose_rating: {
      label: 'Which pressure is the hose made for?',
      why: 'The hose must stand the tank’s pressure and more.',
      how: 'It is printed on the hose or its package as “working pressure”.',
    },
    elevation: {
      label: 'How high above sea level is the site?',
      why: 'Thinner air pushes water less high, and a tank stores less.',
      how: 'A map or a telephone’s compass shows it.',
    },
    temperature: {
      label: 'How warm is the well’s water?',
      why: 'It matters a little for friction, and for suction pumps.',
      how: 'Let water run for some minutes over a thermometer.',
    },
    pump_kind: {
      label: 'Should it be a particular kind of pump?',
      why: 'A lift pump’s cylinder hangs in the water. A suction pump stands at the surface and reaches only shallow water.',
      how: 'Leave it open, and all that fit are compared.',
    },
  },

  fields: {
    hose_length: 'Length',
    hose_bore: 'Width inside',
    hose_material: 'Made of',
    beef_cow: 'Beef cattle',
    dairy_cow: 'Dairy cows',
    calf: 'Calves',
    horse: 'Horses',
    sheep: 'Sheep',
    goat: 'Goats',
    sow: 'Sows',
    pig: 'Pigs',
    laying_hen: 'Laying hens',
    turkey: 'Turkeys',
  },

  answers: { yes: 'Yes', no: 'No', unknown: 'Not sure' },

  choices: {
    tank_kind: {
      bladder: 'Pressure tank with a bladder',
      diaphragm: 'Pressure tank with a diaphragm',
      air_over_water: 'Pressure tank in which air and water touch',
      open: 'Open tank: a cistern, stock tank or trough',
    },
    supply: { pressure_switch: 'A pressure switch', constant_pressure: 'A constant-pressure drive' },
    places: {
      tank_drain: 'Drain valve at the pressure tank',
      yard_hydrant: 'Frost-free yard hydrant',
      spigot: 'Outdoor faucet on the house',
      tee: 'A tee in the pipe, fitted for this',
    },
    hose_material: {
      hose: 'hose', pvc: 'PVC pipe', polyethylene: 'polyethylene pipe', copper: 'copper pipe', pex: 'PEX pipe',
      galvanized_steel: 'galvanized steel pipe', steel: 'steel pipe',
    },
    profile: {
      strong_adult: 'A strong adult', ordinary_adult: 'An ordinary adult', older_adult: 'An older adult',
      youth: 'A youth',
    },
    tank_condition: { sound: 'Sound', corroded: 'Rusty, blistered or damp' },
    need_level: {
      survival: 'Drinking and cooking, for a few days', basic: 'Washing and hygiene too', ordinary: 'As with power',
    },
    pump_kind: { lift: 'A lift pump', suction: 'A suction pump' },
  },

  faults: {
    missing: 'Please answer this, or choose “Not sure”.',
    together: 'Please fill in length and width, or choose “Not sure”.',
    number: 'Please write a number, such as 12 or 12.5.',
    ambiguous: 'Please write this without the comma, so that it can’t be misread: 1500 or 1.5.',
    unit: '“{word}” is not a unit of this answer. Choose one of: {units}.',
    whole: 'Please write a whole number.',
    range: 'Please stay between {least} and {most}.',
  },

  summary: { title: 'Please look at these answers', service: 'The answers don’t go together' },

  status: {
    loading: 'Loading the form …',
    working: 'Working it out …',
    slow: 'Still working: the connection is slow.',
    ready: 'The answer is ready.',
    changed: 'You have changed entries since this answer. Work it out again to bring it up to date.',
    report: 'Making the report …',
    saved: 'The report is saved as a file.',
  },

  problems: {
    title: 'There is no answer yet',
    retry: 'Try again',
    wait: 'Try again in {seconds} s',
    kept: 'What you entered is kept.',
    offline: 'This device is offline. Connect it to the internet, and try again.',
    unreachable: 'The service can’t be reached. Check the connection, and try again.',
    timeout: 'The service took too long to answer.',
    busy: 'The service is busy just now.',
    refused: 'The service does not take questions from this page. Please tell whoever runs the page.',
    other: 'Something went wrong: {detail}',
  },

  answer: { title: 'Your answer', report: 'Save the report (PDF)', back: 'Back to the questions' },
};
