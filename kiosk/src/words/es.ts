// Not yet reviewed by a native speaker. The language choice says so on the screen.
import type { FloorWords } from './en.ts'
import { count } from './figures.ts'
import { board } from './es/board.ts'
import { briefing } from './es/briefing.ts'
import { carried } from './es/carried.ts'
import { checkIn } from './es/check-in.ts'
import { floor } from './es/floor.ts'
import { cautions } from './es/cautions.ts'
import { paper } from './es/paper.ts'
import { radio } from './es/radio.ts'
import { weighIn } from './es/weigh-in.ts'
import { run } from './es/run.ts'
import { safety } from './es/safety.ts'
import { station } from './es/station.ts'
import { readingChecks } from './es/reading-checks.ts'
import { refusals, siteRefusals } from './es/refusals.ts'

/** What the floor says in Spanish. */
export const es = {
  product: 'Musterbook',
  refusals,
  siteRefusals,

  common: {
    cancel: 'Cancelar',
    close: 'Cerrar',
    back: 'Atrás',
    continue: 'Continuar',
    confirm: 'Confirmar',
    save: 'Guardar',
    undo: 'Deshacer',
    yes: 'Sí',
    no: 'No',
    unknown: 'Desconocido',
    none: 'Ninguno',
    optional: 'opcional',
    by: (person: string) => `por ${person}`,
    ago: (age: string) => `hace ${age}`,
    since: (clock: string, age: string) => `desde las ${clock}, hace ${age}`,
    bib: (bib: string) => `#${bib}`,
  },

  caution: {
    defers:
      'Deciden las normas locales y el personal sanitario titulado. Esta herramienta registra y transmite. En una emergencia, actúe primero y registre después.',
    quiet: 'Que no haya ninguna suspensión en vigor no descarta una enfermedad por calor.',
  },

  shell: {
    reaching: 'Buscando el servidor del sitio',
    reachingHelp: 'Si esto no cambia, revise el wifi. Mientras tanto, pare y suspenda de viva voz, con silbato y por radio.',
    sending: (what: string) => `Enviando: ${what}`,
    stopped: 'Estudiante detenido',
    stopTold: (who: string, clock: string) => `${who}: parada pedida aquí a las ${clock}. La tarjeta del propio sitio:`,
    cardNotHere: 'La tarjeta de emergencia no se pudo abrir aquí.',
    cardNotHereNext: 'Llame al número de emergencias local y al responsable de seguridad.',
    holdRaised: 'Suspensión ordenada',
    byPolicy: 'la norma de calor',
    notYours: (screen: string) => `${screen} no está entre sus tareas aquí`,
    notYoursHelp: 'Inicie sesión alguien con la función adecuada, o que supervisión cambie la asignación.',
    someoneElse: 'Iniciar sesión como otra persona',
    noDay: 'No hay ningún día abierto',
    noDayHelp: 'Coordinación abre el día en la pantalla de oficina. Esta pantalla lo sigue sola.',
    troubled: (n: number) =>
      count(n, {
        one: 'El sitio no pudo leer # elemento. Se conserva entero allí y aquí: llame a supervisión.',
        other: 'El sitio no pudo leer # elementos. Se conservan enteros allí y aquí: llame a supervisión.',
      }),
    carry: (n: number) =>
      count(n, { one: 'Llevar lo conservado aquí (#) en archivo o código', other: 'Llevar lo conservado aquí (#) en archivo o código' }),
    lockedLost: (by: string, clock: string) => `${by} bloqueó esta tableta a las ${clock}. Entréguela a supervisión.`,
    lockedSending: (n: number) =>
      count(n, {
        one: 'Todavía se está enviando al sitio # cosa que guardaba. Déjela encendida y al alcance del wifi.',
        other: 'Todavía se están enviando al sitio # cosas que guardaba. Déjela encendida y al alcance del wifi.',
      }),
    lockedEmpty: 'Ya no guarda nada. Supervisión puede desbloquearla.',
    keepsNothing: 'Este navegador no conserva nada (ventana privada o disco lleno). No lleve una estación en él.',
    notKeptTitle: (what: string) => `No guardado: ${what}`,
    notKept: 'Esta tableta no pudo conservar nada y no se llegó al sitio.',
    notKeptNext: 'Anótelo en papel con su hora y siga con otra tableta. Una parada o una suspensión: de viva voz, con silbato y por radio.',
    saveAgain: 'Guardar de nuevo',
    notReached: 'No se llegó al sitio. No se inició nada.',
    refusedLater: (what: string) => `Al comunicarlo, el día dijo que no a lo que se había decidido aquí: ${what}`,
    pinDue: (name: string) =>
      `${name}: el sitio le pide el PIN. Lo que ocurra mientras tanto se guarda y se comunica con su nombre; los inicios y las decisiones esperan al PIN.`,
    pinGive: 'Introducir el PIN',
    aloneStrip: 'Sin contacto: aquí se deciden los inicios y se guarda lo que ocurre. No se levanta, restituye, autoriza ni resuelve nada.',
    needsSite: (screen: string) => `${screen} necesita el servidor`,
    needsSiteHelp: 'No se llega a él. Lo escrito aquí se conserva; sigue solo cuando se oiga al servidor. Mientras tanto, use la radio.',
    noStation: 'En esta tableta no funciona ninguna estación',
    noStationHelp:
      'Su navegador no conserva nada de lo que aquí se registre (ventana privada o disco lleno). Use otra tableta, o libere espacio e inicie sesión de nuevo. Parar y suspender siguen funcionando.',
    mayBeCleared:
      'Este navegador no ha prometido conservar lo que se registre sin contacto. Instale la aplicación en esta tableta, o quédese al alcance.',
    signOnAloneTitle: '¿Quién trabaja aquí, sin contacto?',
    signOnAlone: (hours: number) =>
      `Ahora no se puede comprobar ningún PIN. Solo figura quien inició sesión aquí en las últimas ${hours} horas; queda registrado que la sesión se inició sin contacto.`,
    forgotten: 'Las horas de la jornada han pasado: esta tableta ha borrado lo que sabía de ella',
    forgottenHelp: (kept: number) =>
      `${kept === 0 ? 'Nada espera ser enviado.' : `${kept} sin enviar: siguen guardados aquí.`} Llévela a donde el centro responda: lo guardado se envía y la jornada vuelve con su PIN. Hasta entonces use radio, bocina y otra tableta.`,
    signOnAloneNobody: 'Nadie ha iniciado sesión en esta tableta últimamente',
    signOnAloneNobodyHelp:
      'Use una tableta con contacto, o una en la que haya iniciado sesión hoy. Parar y suspender funcionan aquí sin nombre.',
    signedOnAlone: 'sesión iniciada sin contacto',
    locked: 'Esta pantalla se ha bloqueado.',
    notUnderstood: 'El sitio no pudo aceptarlo.',
    tryAgain: 'Inténtelo de nuevo. Si persiste, avise a supervisión por radio.',
    anyone: 'Quien esté aquí',
    nobodyWears: (bib: string) => `Hoy nadie lleva el ${bib}.`,
    nobodyWearsNext: 'Puede ser de otro día, o haberse cambiado después. Léalo otra vez, o busque al estudiante por su nombre.',
    readBib: 'Leer un dorsal con la cámara',
    holdBib: 'Ponga el código del dorsal ante la cámara',
    readBadge: 'Leer una credencial',
    holdBadge: 'Ponga el código de la credencial ante la cámara',
    badgeNumber: 'O escriba su número',
    badgeNotHere: (badge: string) => `La credencial ${badge} no ha iniciado sesión últimamente en esta tableta.`,
    closeCamera: 'Cerrar la cámara',
    noCamera: 'Aquí no se abrió ninguna cámara.',
    noCameraNext: 'Use un lector de mano, o elija al estudiante en la lista.',
    noSuchBib: 'Hoy nadie lleva ese dorsal.',
    noSuchBibNext: 'Mire otra vez el dorsal, o detenga al estudiante de viva voz y avise a supervisión.',
    unsentFirst: (n: number) =>
      count(n, {
        one: '# cosa está guardada solo en esta tableta y todavía no está en el registro.',
        other: '# cosas están guardadas solo en esta tableta y todavía no están en el registro.',
      }),
    unsentNext: 'Lleve la tableta al alcance del wifi, espere a que no quede nada por enviar y después cierre la sesión.',
    enrolTitle: 'Este dispositivo no está dado de alta',
    enrolHelp: 'Supervisión o coordinación genera un código en su pantalla: «Devices», «Add a device».',
    enrolCode: 'Código de alta',
    enrol: 'Dar de alta este dispositivo',
    setUpFirst: 'Nadie ha configurado todavía este servidor. Abra la página de configuración.',
    setUpLink: 'Configurar',
    signOnTitle: '¿Quién trabaja aquí?',
    signOnHelp: 'Elija su nombre y después su PIN. Al iniciar sesión releva a quien estuviera aquí.',
    pin: 'PIN',
    signOn: 'Iniciar sesión',
    otherName: 'Otro nombre',
    findName: 'Buscar un nombre',
    firstPin: 'Este PIN se lo asignaron, así que alguien más lo conoce. Elija el suyo antes de nada.',
  },

  ownPin: {
    title: 'Cambiar mi PIN',
    help: 'No lo conoce nadie más. De cuatro a doce cifras, ni seguidas ni todas iguales.',
    old: 'PIN actual',
    new: 'PIN nuevo',
    again: 'PIN nuevo otra vez',
    differ: 'Los dos PIN nuevos no coinciden.',
    save: 'Cambiarlo',
    changed: 'PIN cambiado',
    wrong: 'De cuatro a doce cifras.',
  },

  language: {
    label: 'Idioma de esta pantalla',
    notHad: (name: string) => `${name} no está en este dispositivo todavía: hace falta contacto con el sitio.`,
  },

  frame: {
    status: 'Esta tableta',
    signedOn: (person: string) => `Sesión de ${person}`,
    notSignedOn: 'Nadie ha iniciado sesión',
    signOn: 'Iniciar sesión',
    signOff: 'Cerrar sesión',
    contact: (age: string) => `Contacto hace ${age}`,
    contactNever: 'Contacto desconocido',
    contactStale: (age: string) => `Sin contacto desde hace ${age}`,
    unsent: (n: number) => (n === 0 ? 'Nada por enviar' : count(n, { one: '# sin enviar', other: '# sin enviar' })),
    clock: 'Hora en el sitio',
    stopStudent: 'Detener estudiante',
    raiseHold: 'Suspender',
    callStaff: 'Llamar al personal',
    card: 'Tarjeta de emergencia',
    themeIndoor: 'Interior',
    themeOutdoor: 'Exterior',
    rehearsal: 'Ensayo: nada de esto entra en un registro real',
    speed: (times: string) => `El reloj va ${times} veces más rápido`,
    noHold: 'Ninguna suspensión en vigor',
  },

  states: {
    met: 'Cumplido',
    notMet: 'No cumplido',
    unknown: 'Desconocido',
    waiting: 'En espera',
    called: 'Llamado',
    underWay: 'En curso',
    done: 'Hecho',
    hold: 'Suspensión en vigor',
    stopped: 'Detenido',
    cleared: 'Con autorización médica',
    limited: 'Autorización con límites',
    pending: 'Pendiente',
    notToday: 'Hoy no',
    withdrawn: 'Retirada',
    review: 'En revisión',
    blocked: 'Bloqueado',
  },

  stopStudent: {
    title: '¿A qué estudiante detener?',
    help: 'No empieza nada hasta que el personal médico lo reincorpore. Sus vueltas e intentos hasta ahora se conservan.',
    underWayHere: 'En curso aquí',
    others: 'Todos los demás con dorsal',
    bib: 'Otro dorsal',
    stop: (bib: string) => `Detener ${bib}`,
    stopBib: 'Detener',
  },

  evidence: {
    take: 'Foto',
    noFace: 'de la pantalla o la barra, sin caras',
    again: 'Otra foto',
    taken: 'acompaña a este resultado',
    show: 'Foto',
    alt: 'Imagen de la pantalla o la barra tomada al leer',
    notHere: 'Esta imagen no está todavía en el registro. Quizá la tenga aún la tableta que la tomó.',
    notIt: 'Esta no es la imagen que se registró: sus datos dan otra huella.',
    digest: (digest: string) => `Consta en el registro por su huella: ${digest}`,
    unsent: (n: number) => count(n, { one: '# foto solo en esta tableta', other: '# fotos solo en esta tableta' }),
    broken: 'Esa imagen no se pudo leer',
    brokenNext: 'Tómela otra vez. El valor se guarda con ella o sin ella.',
  },

  raiseHold: {
    title: 'Ordenar una suspensión',
    help: 'Se ordena parar a todos los que estén en curso en la zona. Levantarla exige a la persona responsable de seguridad y a una segunda persona.',
    zone: 'Zona',
    raise: (kind: string, zone: string) => `${kind} ${zone}: ordenar una suspensión`,
    wholeSite: 'Todo el exterior',
    kinds: { heat: 'Calor', lightning: 'Rayos', cold: 'Frío', air: 'Aire', other: 'Otro' },
  },

  sound: {
    off: 'El sonido de esta tableta está apagado. Toque para probarlo.',
    none: 'Este navegador no tiene sonido. Mire la pantalla y escuche la radio.',
    silent: 'El sonido de esta tableta está apagado: esto se ve y no se oye. Toque para encenderlo y avise de viva voz.',
  },

  hold: {
    title: 'Alto',
    zone: (zone: string) => `Suspensión en vigor: ${zone}`,
    reason: (reason: string) => `Motivo: ${reason}`,
    raised: (clock: string, person: string) => `Ordenada a las ${clock} por ${person}`,
    underWay: (n: number) => count(n, { one: '# en curso cuando se ordenó', other: '# en curso cuando se ordenó' }),
    acknowledge: 'Me he enterado',
    heardHere: 'Suspensión oída aquí',
    orderUnknown: 'No se puede decir qué fue antes, la suspensión o la salida. Rige la suspensión.',
  },

  gates: {
    title: 'Antes de empezar',
    allMet: 'Se cumplen todos los requisitos',
    open: (notMet: number, unknown: number) =>
      [
        notMet > 0 ? count(notMet, { one: '# requisito no cumplido', other: '# requisitos no cumplidos' }) : '',
        unknown > 0 ? count(unknown, { one: '# requisito desconocido', other: '# requisitos desconocidos' }) : '',
      ]
        .filter(Boolean)
        .join(', '),
    resolver: (who: string) => `Lo resuelve: ${who}`,
  },

  queue: {
    title: 'Autorizados y en espera',
    waiting: (n: number) => (n === 0 ? 'Nadie espera' : count(n, { one: '# en espera', other: '# en espera' })),
    callUp: 'Llamar',
    callUpNamed: (name: string, bib: string) => `Llamar a ${name}, ${bib}`,
    emptyHelp: 'Los estudiantes aparecen cuando tienen autorización y han calentado.',
  },

  student: {
    lookAlike: 'Nombre parecido hoy',
    bib: 'Dorsal',
    face: (name: string) => `Imagen de ${name}`,
  },

  numberPad: {
    clear: 'Borrar todo',
    remove: 'Borrar el último',
    minus: 'Menos',
    decimal: 'Coma decimal',
    empty: 'Todavía sin valor',
    ask: '¿Es eso lo que leyó?',
    keep: (value: string) => `Mantener ${value}`,
    retype: 'Escribirlo de nuevo',
  },

  stopwatch: {
    label: 'Cronómetro',
    start: 'Iniciar',
    stop: 'Parar',
    split: 'Parcial',
    splits: 'Parciales',
    running: 'En marcha',
    stopped: 'Cronómetro parado',
    ready: 'Listo',
  },

  laps: {
    toGo: (n: number) => (n === 0 ? 'Terminado' : count(n, { one: 'falta # vuelta', other: 'faltan # vueltas' })),
    expected: (duration: string) => `se espera en ${duration}`,
    overdue: (duration: string) => `se esperaba hace ${duration}`,
    crossed: 'cruza la línea,',
    takeBack: 'Toques que se pueden deshacer',
    undo: (bib: string, seconds: number) => `Deshacer ${bib}: ${seconds}\u00a0s`,
    possibleMiss: 'Posible paso sin marcar',
    finishedGroup: 'Terminados',
    runners: 'Corredores por próximo paso',
  },

  load: {
    title: 'Carga en la barra',
    less: (step: string) => `${step} menos`,
    more: (step: string) => `${step} más`,
    efforts: (used: number, of: number) => `Esfuerzo ${Math.min(used + 1, of)} de ${of}`,
    left: (n: number) => (n === 0 ? 'No quedan esfuerzos' : count(n, { one: 'queda # esfuerzo', other: 'quedan # esfuerzos' })),
    good: 'Válido',
    noLift: 'Nulo',
    history: 'Esfuerzos hasta ahora',
    set: (load: string) => `${load} en la barra: empezar`,
    outcome: '¿Cómo fue?',
  },

  skinfolds: {
    title: 'Puntos de pliegue',
    reading: (n: number) => `Lectura ${n}`,
    missing: 'sin leer todavía',
    third: 'Las dos lecturas difieren más de lo que permite el protocolo: hace falta una tercera.',
    next: 'Siguiente',
    unit: 'mm',
  },

  refusal: {
    title: 'No se ha empezado',
    rule: 'Regla',
    resolver: 'Quién puede resolverlo',
    next: 'Qué hacer ahora',
    kept: 'Esta negativa queda en el registro.',
    keptHere: 'Lo dice esta tableta, sin contacto. Se guarda aquí y se comunica después.',
    fallback: {
      says: 'El día no lo permite ahora.',
      who: 'Supervisión',
      next: 'Pregunte a supervisión y diga la regla.',
    },
  },

  said: {
    kept: 'Guardado en esta tableta',
    keptHelp: 'Se envía cuando vuelva el contacto con el sitio.',
    recorded: 'En el registro',
    at: (clock: string) => `a las ${clock}`,
    number: (n: number) => `asiento ${n}`,
    review: 'Espera a supervisión',
  },

  reading: {
    line: (age: string, place: string, instrument: string) => `leído hace ${age}, ${place}, ${instrument}`,
    by: (person: string) => `por ${person}`,
    stale: (limit: string) => `Más de ${limit}: se trata como desconocido`,
    notSettled: 'Sin estabilizar',
    none: 'Sin lectura',
  },

  acknowledgements: {
    title: 'Quién lo ha oído',
    heard: 'Oído',
    notHeard: 'No oído',
    unreachable: 'Sin contacto',
    tally: (heard: number, of: number) => `${heard} de ${of} lo han oído`,
    after: (duration: string) => `a los ${duration}`,
  },

  timeline: {
    by: (person: string, device: string) => `${person}, ${device}`,
    late: (duration: string) => `registrado ${duration} después`,
    empty: 'Nada registrado todavía',
  },

  steps: {
    first: 'Primero',
    previous: 'Un paso atrás',
    next: 'Un paso adelante',
    last: 'Último',
    position: (n: number, of: number) => `Asiento ${n} de ${of}`,
    slider: 'Momento del día',
  },

  table: {
    empty: 'Nada que mostrar',
  },

  chart: {
    table: 'Lo mismo en una tabla',
    time: 'Hora',
    value: 'Valor',
  },

  percentile: {
    within: (group: string, table: string) => `Percentil dentro del grupo ${group}, tabla ${table}`,
    value: (n: number) => `${n} de 100`,
    none: 'Sin percentil',
  },

  qr: {
    code: (text: string) => `Código: ${text}`,
  },

  files: {
    choose: 'Elegir un archivo',
    drop: 'o soltarlo aquí',
    chosen: (name: string, size: string) => `${name}, ${size}`,
    wrongKind: (kinds: string) => `Aquí se aceptan ${kinds}.`,
    tooLarge: (limit: string) => `Mayor de ${limit}.`,
  },

  progress: {
    of: (n: number, of: number) => `${n} de ${of}`,
    working: 'Trabajando',
  },

  checkIn,
  board,
  station,
  run,
  safety,
  briefing,
  carried,
  paper,
  floor,
  radio,
  cautions,
  weighIn,

  readingChecks,

  outcomes: {
    noContact: 'No se llegó al sitio. No se ha perdido nada: inténtelo de nuevo o use la radio.',
    notSignedOn: 'Inicie sesión primero.',
    notYours: 'Su función no incluye esto.',
    notUnderstood: 'El sitio no lo entendió.',
    changedSince: 'Cambió desde que lo abrió; revise la nueva versión.',
    broken: 'Algo falló en el sitio. Ha quedado anotado allí.',
  },
} satisfies FloorWords
