/** Lo que dice el formulario en español. What the form says in Spanish. */

export { words as answerWords } from '../answer/words-es.js';

export const words = {
  code: 'es',
  title: '¿Qué bomba de mano le sirve a su pozo?',
  intro:
    'Conteste lo que pueda. Lo que no sepa o deje vacío se estima, y la respuesta lo dice. Lo que escriba se queda en esta ' +
    'pestaña del navegador; para calcular solo se envían las cifras, sin nombre ni dirección.',
  unsure: 'No sé',
  optional: 'opcional',
  why: 'Por qué lo preguntamos y cómo averiguarlo',
  unitOf: 'Unidad de: {label}',
  unsureOf: 'No sé: {label}',
  system: {
    label: 'Unidades', us: 'De EE. UU.: pies, galones, psi', si: 'Métricas: metros, litros, kPa',
  },
  direction: { label: 'Más alto o más bajo: {label}', above: 'más alto', below: 'más bajo' },
  submit: 'Calcular',
  clear: 'Vaciar el formulario',
  cleared: 'El formulario está vacío.',
  more: 'Más preguntas: {title}',

  units: {
    ft: 'pies', in: 'pulg', m: 'm', cm: 'cm', mm: 'mm', psi: 'psi', kPa: 'kPa', bar: 'bar', gal: 'gal',
    fl_oz: 'oz líq', L: 'L', mL: 'mL', m3: 'm³', gpm: 'gal/min', 'L/min': 'L/min', 'L/s': 'L/s',
    'gpm/ft': 'gal/min por pie', 'L/s/m': 'L/s por m', degF: '°F', degC: '°C',
  },

  groups: {
    water: { title: 'El agua del pozo' },
    tank: { title: 'Qué se va a llenar' },
    way: { title: 'De la bomba al tanque' },
    people: { title: 'Quién va a bombear' },
    safety: { title: 'Qué puede ser peligroso' },
    needs: {
      title: 'Cuánta agua necesita',
      text: 'Indica cuántos ciclos y minutos cuesta el agua de un día. No cambia qué bomba le sirve.',
    },
    details: {
      title: 'El pozo y la bomba en detalle',
      text: 'Cada dato afina la respuesta. Casi todos están en el registro del perforador, del que su condado o estado ' +
        'también puede tener copia.',
    },
  },

  questions: {
    level: {
      label: '¿A qué profundidad está el agua del pozo, medida desde el suelo?',
      why: 'Es la mayor parte de la altura a la que hay que subir el agua. No se puede adivinar.',
      how: 'Busque “nivel estático” en el registro del perforador o del condado. Un contratista de pozos puede medirlo. ' +
        'Mídalo cuando la bomba eléctrica lleve unas horas apagada. Con “No sé” recibe una tabla por profundidad.',
    },
    tank_kind: {
      label: '¿Qué clase de tanque es?',
      why: 'Un tanque de presión empuja en contra mientras se llena; uno abierto no.',
      how: 'Un tanque con válvula de llanta arriba, hecho en las últimas décadas, suele tener membrana o diafragma. Uno ' +
        'galvanizado más viejo suele tener el aire y el agua juntos.',
    },
    tank_volume: {
      label: '¿De qué tamaño es el tanque?',
      open: '¿Cuánta agua quiere en cada llenado?',
      why: 'Los ciclos, los minutos y el agua guardada crecen con él.',
      how: 'La etiqueta del tanque da el volumen total, aire y agua juntos. De un tanque abierto es el agua que quiere ' +
        'llevar.',
    },
    tank_count: {
      label: '¿Cuántos tanques iguales hay?',
      why: 'Todos se llenan a la vez.',
      how: 'Cuente los tanques de presión unidos por tubería.',
    },
    supply: {
      label: '¿Qué mantiene la presión cuando hay luz?',
      why: 'Sus presiones fijan dónde empieza un llenado y dónde debe terminar.',
      how: 'Un presostato es una cajita con tapa en el tubo junto al tanque; la presión sube y baja mientras ' +
        'corre el agua. Un variador de presión constante tiene un control electrónico, y la presión casi no cambia.',
    },
    cut_in: {
      label: '¿A qué presión arranca la bomba el presostato?',
      why: 'El llenado empieza cerca de ella.',
      how: 'Suele estar en una etiqueta dentro de la tapa, como el menor de dos números, por ejemplo 30/50. No quite la ' +
        'tapa: debajo hay voltaje. Mejor mire el manómetro mientras corre el agua: la bomba arranca en la lectura más baja.',
    },
    cut_out: {
      label: '¿A qué presión la para?',
      why: 'El llenado debe terminar cerca de ella.',
      how: 'Mire el manómetro mientras la bomba trabaja: se para en la lectura más alta.',
    },
    set_pressure: {
      label: '¿Qué presión mantiene el variador?',
      why: 'El llenado debe terminar cerca de ella.',
      how: 'Lea el manómetro del tanque o la pantalla del control.',
    },
    precharge: {
      label: '¿Qué presión de aire tiene el tanque cuando está vacío de agua?',
      why: 'Por debajo de ella no se guarda nada. Una precarga equivocada cuesta agua y esfuerzo.',
      how: 'Con la luz cortada y el tanque vacío, la muestra un medidor de llantas en la válvula de aire. Suele estar 2 psi ' +
        '(14 kPa) por debajo de la presión a la que arranca la bomba.',
    },
    target: {
      label: '¿Hasta qué presión quiere llenar?',
      why: 'Cada poco más de presión cuesta más esfuerzo y guarda menos agua.',
      how: 'Déjelo vacío para llenar hasta donde llega la bomba eléctrica.',
    },
    places: {
      label: '¿Dónde se podría conectar la manguera o el tubo?',
      why: 'De eso depende cómo se conecta la bomba y qué piezas hacen falta.',
      how: 'Elija todo lo que tenga. La llave de drenaje del tanque parece una llave de manguera, baja, en el tubo de al ' +
        'lado.',
    },
    spigot_breaker: {
      label: '¿Tiene rompevacío la llave de manguera?',
      why: 'Un rompevacío solo deja salir agua: por ahí no se puede bombear nada hacia adentro.',
      how: 'Busque una pieza redonda de latón o plástico enroscada en la salida, o una tapa en forma de campana arriba.',
    },
    hydrant_breaker: {
      label: '¿Tiene rompevacío el hidrante de patio?',
      why: 'Un rompevacío solo deja salir agua: por ahí no se puede bombear nada hacia adentro.',
      how: 'Busque una pieza redonda enroscada en la salida del hidrante.',
    },
    hose: {
      label: '¿Qué largo y qué diámetro interior tiene la manguera o el tubo de la bomba al tanque?',
      why: 'La fricción en una manguera larga o angosta cuesta esfuerzo en cada ciclo.',
      how: 'Mida a pasos: un paso largo es de unos 3 pies (0.9 m). Las mangueras de jardín comunes tienen 5/8 o 3/4 pulg ' +
        '(16 o 19 mm) por dentro; muchas lo llevan impreso.',
    },
    rise: {
      label: '¿Cuánto más alto o más bajo que la salida de la bomba está el manómetro del tanque?',
      why: 'Cada 2.3 pies (0.7 m) de subida cuestan tanto como 1 psi (7 kPa) de presión.',
      how: 'Un tanque en el sótano está más bajo que una bomba en el patio. Calcule por escalones o pisos.',
    },
    check_valve: {
      label: '¿Habrá una válvula de retención (check) entre la bomba y el tanque?',
      why: 'Sin ella el tanque se vacía hacia atrás por la bomba, y la palanca puede dar un golpe.',
      how: 'Lleva en el cuerpo una flecha con el sentido del agua. Si todavía no se piensa poner una, conteste que no.',
    },
    profile: {
      label: '¿Quién va a bombear casi siempre?',
      why: 'De eso depende con cuánta fuerza, qué tan rápido y cuánto tiempo se puede bombear.',
      how: 'Piense en la persona más débil que tendría que bombear en una emergencia.',
    },
    turns: {
      label: '¿Cuántas personas se turnan?',
      why: 'Un llenado largo es más fácil si unos descansan mientras otros bombean.',
      how: 'Cuente solo a quienes de verdad estarán cuando se vaya la luz.',
    },
    public_main: {
      label: '¿Algún tubo de la casa está conectado también a la red pública de agua?',
      why: 'Bombear agua de pozo a tubos que también alimenta la red pública es peligroso, y está prohibido casi en todas ' +
        'partes.',
      how: 'Un recibo o un medidor de agua quiere decir que sí. Si nadie está seguro, pregunte a la compañía de agua.',
    },
    relief: {
      label: '¿Hay una válvula de alivio de presión en el tanque?',
      why: 'Una bomba de mano no tiene interruptor que la pare. La válvula de alivio impide que el tanque reviente.',
      how: 'Busque en el tubo del tanque una válvula con palanca o con una placa que indica una presión, y una salida abierta ' +
        'hacia abajo. La del calentador de agua es otra.',
    },
    relief_pressure: {
      label: '¿A qué presión abre la válvula de alivio?',
      why: 'Hay que dejar de bombear bastante antes.',
      how: 'Está grabada en la válvula o en su placa.',
    },
    tank_rating: {
      label: '¿Qué presión máxima de trabajo está marcada en el tanque?',
      why: 'Sin ella nadie debe pasar de la presión que el tanque alcanza todos los días.',
      how: 'En la etiqueta del tanque dice “presión máxima de trabajo” o “maximum working pressure”.',
    },
    tank_condition: {
      label: '¿Cómo se ve el tanque por fuera?',
      why: 'Un tanque corroído puede reventar con la presión.',
      how: 'Mire el fondo, las costuras y las conexiones: óxido, ampollas, humedad.',
    },
    electric_pump: {
      label: '¿Cuelga una bomba eléctrica en el mismo pozo?',
      why: 'Comparte el ademe, y hay que cortar y bloquear su corriente antes de que alguien abra el pozo.',
      how: 'Un cable que entra por la tapa del pozo quiere decir que sí.',
    },
    freezes: {
      label: '¿Se pueden congelar ahí los tubos en la superficie?',
      why: 'Entonces la bomba necesita un orificio de drenaje por debajo de la profundidad de congelación, y hay que vaciar las mangueras.',
      how: 'Conteste que sí si hay noches de invierno bajo cero (32 °F).',
    },
    overhead_lines: {
      label: '¿Pasan líneas eléctricas cerca o encima del pozo?',
      why: 'Al instalar la bomba se levantan tubos y varillas largos. Tocar una línea mata.',
      how: 'Mire hacia arriba, y cuente cada cable como si tuviera corriente.',
    },
    pit: {
      label: '¿Está la boca del pozo, o el tanque, dentro de un foso?',
      why: 'El aire de un foso puede asfixiar sin aviso.',
      how: 'Todo lugar bajo el suelo al que se baja es un foso, aunque sea poco profundo.',
    },
    household: {
      label: '¿Cuántas personas viven ahí?',
      why: 'Cada una necesita agua todos los días.',
      how: 'Cuente también a quienes recibiría en una emergencia.',
    },
    need_level: {
      label: '¿Para qué debe alcanzar el agua?',
      why: 'Para beber bastan pocos galones al día; una casa con luz gasta muchas veces más.',
      how: 'Para un apagón de pocos días casi todos cuentan con lo básico.',
    },
    animals: {
      label: '¿Cuántos animales necesitan agua?',
      why: 'Unos pocos animales grandes pueden necesitar más que la casa.',
      how: 'Deje vacío lo que no tenga.',
    },
    floor: {
      label: '¿Cuánto más alto o más bajo que el manómetro del tanque está el piso donde se usa el agua?',
      why: 'Un piso más alto necesita más presión para el mismo caudal.',
      how: 'Un piso de una casa son unos 10 pies (3 m).',
    },
    casing: {
      label: '¿Qué diámetro interior tiene el ademe del pozo?',
      why: 'El cilindro tiene que pasar junto a lo que ya cuelga en el pozo.',
      how: 'Mida por fuera la boca del tubo, con la tapa puesta, y reste las paredes, o vea el registro del perforador.',
    },
    well_depth: {
      label: '¿Qué profundidad tiene el pozo?',
      why: 'El cilindro tiene que colgar dentro del agua y sin tocar el fondo.',
      how: 'Está en el registro del perforador.',
    },
    yield: {
      label: '¿Cuánta agua da el pozo durante horas?',
      why: 'Nadie puede bombear más de lo que entra.',
      how: 'Está en el registro del perforador como rendimiento o caudal.',
    },
    capacity: {
      label: '¿Cuánta agua da el pozo por cada pie o metro que baja su nivel?',
      why: 'Al bombear baja el agua, y esa altura también hay que subirla.',
      how: 'Divida el caudal entre el abatimiento, los dos de la prueba de bombeo del perforador.',
    },
    outlet: {
      label: '¿A qué altura sobre el suelo está la salida de la bomba?',
      why: 'Se suma a la altura que hay que subir.',
      how: 'Déjelo vacío si todavía no se ha elegido la bomba.',
    },
    hose_rating: {
      label: '¿Para qué presión está hecha la manguera?',
      why: 'Tiene que aguantar la presión del tanque y más.',
      how: 'Está impresa en la manguera o en su empaque como “presión de trabajo” o “working pressure”.',
    },
    elevation: {
      label: '¿A qué altura sobre el nivel del mar está el lugar?',
      why: 'El aire más delgado empuja el agua menos alto, y el tanque guarda menos.',
      how: 'Lo muestra un mapa o la brújula de un teléfono.',
    },
    temperature: {
      label: '¿Qué temperatura tiene el agua del pozo?',
      why: 'Cuenta un poco para la fricción y para las bombas de succión.',
      how: 'Deje correr el agua unos minutos sobre un termómetro.',
    },
    pump_kind: {
      label: '¿Quiere una clase de bomba en particular?',
      why: 'El cilindro de una bomba de elevación cuelga dentro del agua. Una bomba de succión está en la superficie y solo ' +
        'alcanza agua poco profunda.',
      how: 'Déjelo abierto, y se comparan todas las que sirven.',
    },
  },

  fields: {
    hose_length: 'Largo',
    hose_bore: 'Diámetro interior',
    hose_material: 'Material',
    beef_cow: 'Ganado de carne',
    dairy_cow: 'Vacas lecheras',
    calf: 'Becerros',
    horse: 'Caballos',
    sheep: 'Ovejas',
    goat: 'Cabras',
    sow: 'Cerdas de cría',
    pig: 'Cerdos',
    laying_hen: 'Gallinas ponedoras',
    turkey: 'Pavos',
  },

  answers: { yes: 'Sí', no: 'No', unknown: 'No sé' },

  choices: {
    tank_kind: {
      bladder: 'Tanque de presión con membrana',
      diaphragm: 'Tanque de presión con diafragma',
      air_over_water: 'Tanque de presión en que se tocan el aire y el agua',
      open: 'Tanque abierto: cisterna, pila o bebedero',
    },
    supply: {
      pressure_switch: 'Un presostato (interruptor de presión)', constant_pressure: 'Un variador de presión constante',
    },
    places: {
      tank_drain: 'Llave de drenaje del tanque de presión',
      yard_hydrant: 'Hidrante de patio anticongelante',
      spigot: 'Llave de manguera en la casa',
      tee: 'Una te en el tubo, puesta para esto',
    },
    hose_material: {
      hose: 'manguera', pvc: 'tubo de PVC', polyethylene: 'tubo de polietileno', copper: 'tubo de cobre',
      pex: 'tubo PEX', galvanized_steel: 'tubo de acero galvanizado', steel: 'tubo de acero',
    },
    profile: {
      strong_adult: 'Un adulto fuerte', ordinary_adult: 'Un adulto común', older_adult: 'Una persona mayor',
      youth: 'Un joven',
    },
    tank_condition: { sound: 'En buen estado', corroded: 'Oxidado, con ampollas o húmedo' },
    need_level: {
      survival: 'Beber y cocinar, por unos días', basic: 'También lavarse e higiene', ordinary: 'Como cuando hay luz',
    },
    pump_kind: { lift: 'Una bomba de elevación', suction: 'Una bomba de succión' },
  },

  faults: {
    missing: 'Conteste esto o elija “No sé”.',
    together: 'Escriba el largo y el diámetro, o elija “No sé”.',
    number: 'Escriba un número, por ejemplo 12 o 12.5.',
    ambiguous: 'Escríbalo sin la coma, para que no se lea mal: 1500 o 1.5.',
    unit: '“{word}” no es una unidad de esta respuesta. Elija una de estas: {units}.',
    whole: 'Escriba un número entero.',
    range: 'Escriba un valor entre {least} y {most}.',
  },

  summary: { title: 'Revise estas respuestas', service: 'Las respuestas no concuerdan' },

  status: {
    loading: 'Cargando el formulario…',
    working: 'Calculando…',
    slow: 'Sigue calculando: la conexión es lenta.',
    ready: 'La respuesta está lista.',
    changed: 'Cambió datos después de esta respuesta. Vuelva a calcular para ponerla al día.',
    report: 'Preparando el informe…',
    saved: 'El informe se guardó como archivo.',
  },

  problems: {
    title: 'Todavía no hay respuesta',
    retry: 'Intentar de nuevo',
    wait: 'Intentar de nuevo en {seconds} s',
    kept: 'Lo que escribió se conserva.',
    offline: 'Este aparato no tiene conexión. Conéctelo a internet e intente de nuevo.',
    unreachable: 'No se puede llegar al servicio. Revise la conexión e intente de nuevo.',
    timeout: 'El servicio tardó demasiado en contestar.',
    busy: 'El servicio está ocupado en este momento.',
    refused: 'El servicio no acepta preguntas desde esta página. Avise a quien la administra.',
    other: 'Algo salió mal: {detail}',
  },

  answer: { title: 'Su respuesta', report: 'Guardar el informe (PDF)', back: 'Volver a las preguntas' },
};
