// Not yet reviewed by a native speaker.
import type { FloorWords, RefusalWords, SiteRule } from '../en.ts'

type Says = RefusalWords['says']
const rule = (says: Says | string, next: Says | string, who: string): RefusalWords => ({
  says: typeof says === 'string' ? () => says : says,
  next: typeof next === 'string' ? () => next : next,
  who,
})

const supervisor = 'Supervisión'
const screener = 'Personal médico'
const safetyOfficer = 'Responsable de seguridad'
const stationStaff = 'Personal de la estación'
const trackStaff = 'Personal de pista'
const greeter = 'Recepción'
const nobody = 'No hace falta nadie'
const asker = 'Quien lo pide'

export const refusals = {
  alreadyOpen: rule('Este día ya está abierto.', 'Use el día abierto.', nobody),
  notRehearsal: rule(
    'El reloj de este servidor va a otra velocidad; solo abre días de ensayo.',
    'Para un día real, arranque el servidor sin velocidad.',
    'Coordinación',
  ),
  sealed: rule(
    'El día está sellado.',
    'Los hechos tardíos se conservan tras el sello; supervisión puede reabrir con una segunda persona.',
    supervisor,
  ),
  notSealed: rule('El día no está sellado.', 'Corríjalo en el día abierto.', supervisor),
  notOnRoster: rule('Este estudiante no está en la lista de hoy.', 'Busque el código otra vez o inscríbalo sin cita.', supervisor),
  alreadyOnRoster: rule('Este estudiante ya está en la lista de hoy.', 'Registre su llegada.', greeter),
  noSuchStation: rule('Hoy no existe esa estación.', 'Elija una estación de este día.', supervisor),
  notQualified: rule(
    (p) => `${p['person']} no consta como persona cualificada para ${p['station']}.`,
    'Supervisión puede aceptarlo con un motivo.',
    supervisor,
  ),
  alreadyCheckedIn: rule('La llegada de este estudiante ya está registrada.', 'Siga a la mesa médica.', greeter),
  notCheckedIn: rule('La llegada de este estudiante no está registrada.', 'Envíelo al quiosco.', greeter),
  withdrawn: rule('Este estudiante se ha retirado del día.', 'Aquí no queda nada pendiente.', supervisor),
  bibTaken: rule((p) => `Otro estudiante lleva hoy el dorsal ${p['bib']}.`, 'Elija otro dorsal.', greeter),
  stopped: rule(
    (p) => `Consta una parada médica desde las ${p['since']}.`,
    'Envíelo a la mesa médica. Solo el personal médico puede reincorporar.',
    screener,
  ),
  notCleared: rule(
    (p) =>
      p['clearance'] === 'pending' ? `No consta autorización médica de #${p['bib']}.` : `Sin autorización médica para ${p['station']}.`,
    'Envíelo a la mesa médica.',
    screener,
  ),
  observerNeeded: rule(
    (p) => `Con autorización para ${p['station']} solo con un observador.`,
    'Nombre a un observador antes de empezar.',
    stationStaff,
  ),
  warmUpMissing: rule(
    'El calentamiento no está confirmado.',
    'Envíelo a la zona de calentamiento; allí lo confirman.',
    'Personal de calentamiento',
  ),
  bodyMassMissing: rule('No consta la masa corporal de hoy.', 'Envíelo a la mesa de pesaje.', 'Mesa de pesaje'),
  coolDownDue: rule(
    'Faltan la vuelta a la calma y la revisión visual.',
    'No empieza nada más hasta que consten, o se dispensen con un motivo.',
    trackStaff,
  ),
  holdInForce: rule(
    (p) => `Hay una suspensión en vigor en ${p['zone']} desde las ${p['since']}.`,
    'No dé la salida. Espere a que la persona responsable de seguridad y una segunda persona la levanten.',
    safetyOfficer,
  ),
  noReading: rule(
    'No consta ninguna lectura utilizable; el estado del calor es desconocido.',
    'Hace falta una lectura nueva antes de empezar en el exterior.',
    safetyOfficer,
  ),
  readingStale: rule(
    (p) => `La última lectura es de hace ${p['minutes']} min.`,
    'Hace falta una lectura nueva antes de empezar en el exterior.',
    safetyOfficer,
  ),
  siteUnread: rule(
    'No es cierto que hayan llegado todas las lecturas del sitio; el estado de suspensión es desconocido.',
    'Inténtelo en un momento; si persiste, avise por radio a la persona responsable de seguridad.',
    safetyOfficer,
  ),
  outOfContact: rule(
    (p) => `No se puede confirmar el estado de suspensión: sin contacto desde hace ${p['minutes']} min.`,
    'Avise por radio a la persona responsable de seguridad y registre quién contestó.',
    safetyOfficer,
  ),
  equipmentBlocked: rule(
    (p) => `${p['equipment']} no pasó su última comprobación.`,
    'Use otro equipo o pase una comprobación nueva.',
    stationStaff,
  ),
  notCalledUp: rule((p) => `Sin llamar a ${p['station']}.`, 'Llame primero al estudiante.', stationStaff),
  calledElsewhere: rule((p) => `Llamado ahora a ${p['station']}.`, 'Espere, o devuelva al estudiante a la cola de allí.', stationStaff),
  otherUnderWay: rule(
    (p) => `Hay un intento en curso en ${p['station']}.`,
    'Mire el dorsal y la cara. Si son los correctos, registre o anule primero ese intento.',
    stationStaff,
  ),
  triesUsed: rule(
    (p) => `Usados ${p['used']} de ${p['tries']} intentos.`,
    'Aquí no empieza nada más; supervisión puede conceder una repetición.',
    supervisor,
  ),
  restNotOver: rule(
    (p) => `El descanso de ${p['minutes']} min no ha terminado; quedan ${p['left']} s.`,
    'Espere, o empiece antes con un motivo.',
    stationStaff,
  ),
  notBriefed: rule(
    'Este estudiante no ha recibido la explicación de esta prueba.',
    'Explíquela ahora, o empiece con un motivo.',
    stationStaff,
  ),
  loadMissing: rule('No hay carga puesta.', 'Ponga la carga en la barra antes del esfuerzo.', stationStaff),
  attemptExists: rule('Este intento ya existe.', 'Ábralo.', nobody),
  noSuchAttempt: rule('No existe ese intento.', 'Abra otra vez la ficha del estudiante.', stationStaff),
  notReleasable: rule('Este intento ya tiene algo registrado.', 'Registre su resultado; supervisión puede corregirlo.', supervisor),
  notArun: rule('Esta estación no es una carrera.', 'Empiece los intentos uno a uno.', stationStaff),
  waveExists: rule('Esta tanda ya ha salido.', 'Ábrala.', nobody),
  noSuchWave: rule('No existe esa tanda.', 'Abra otra vez la pantalla de pista.', trackStaff),
  waveNeeded: rule('Las carreras salen en tandas.', 'Dé la salida a una tanda en la pantalla de pista.', trackStaff),
  runnerMayNotStart: rule((p) => `#${p['bib']}: ${p['why']}`, 'Deje a este corredor fuera de la tanda, o resuélvalo primero.', trackStaff),
  notStopped: rule('No hay parada médica en vigor.', 'No hay nada que reincorporar.', nobody),
  onlyScreener: rule('Solo el personal médico puede reincorporar.', 'Envíelo a la mesa médica.', screener),
  noSuchReferral: rule('No existe esa derivación abierta.', 'Abra la lista otra vez.', screener),
  noSuchHold: rule('No existe esa suspensión en vigor.', 'Abra otra vez la pantalla de seguridad.', safetyOfficer),
  onlySafetyOfficer: rule('Solo una persona responsable de seguridad propone levantarla.', 'Avísela por radio.', safetyOfficer),
  dispositionDue: rule(
    (p) => `${p['count']} estudiantes en curso no tienen desenlace todavía.`,
    'Elija primero qué pasa con quienes están en curso.',
    safetyOfficer,
  ),
  readingOlderThanHold: rule('Esa lectura es anterior a la suspensión.', 'Tome una lectura nueva y estabilizada.', safetyOfficer),
  instrumentNotSettled: rule('El instrumento no se había estabilizado.', 'Espere a que se estabilice y lea otra vez.', safetyOfficer),
  notBelowLiftThreshold: rule(
    (p) => `La lectura no está por debajo del valor fijado por ${p['policy']}.`,
    'Espere y lea otra vez.',
    safetyOfficer,
  ),
  dwellNotOver: rule(
    (p) => `La lectura se tomó menos de ${p['minutes']} min después de ordenarse la suspensión.`,
    'Lea otra vez más tarde.',
    safetyOfficer,
  ),
  estimateCannotLift: rule('Una estimación no puede levantar una suspensión.', 'Lea un instrumento.', safetyOfficer),
  readingUnusable: rule('Esa lectura no se puede usar.', 'Lea otra vez y conteste sus preguntas.', safetyOfficer),
  latchedForSession: rule('La norma mantiene la suspensión por calor toda la sesión.', 'Hoy ninguna lectura la levanta.', safetyOfficer),
  readingInFuture: rule('Esa lectura está en el futuro.', 'Compruebe el reloj del dispositivo y lea otra vez.', safetyOfficer),
  readingTooOld: rule('Esa lectura es demasiado antigua.', 'Tome una lectura nueva y estabilizada.', safetyOfficer),
  derivedWetBulbCannotLift: rule(
    'Con esta norma, un bulbo húmedo deducido de la humedad no puede levantar una suspensión.',
    'Lea un bulbo húmedo natural.',
    safetyOfficer,
  ),
  laterReadingNotBelow: rule(
    'Una lectura posterior no está por debajo del valor fijado por la norma.',
    'Espere y lea otra vez.',
    safetyOfficer,
  ),
  moreReadingsNeeded: rule('La norma pide más lecturas estabilizadas seguidas.', 'Lea otra vez.', safetyOfficer),
  readingMissing: rule('Una suspensión por calor se levanta con una lectura.', 'Tome una lectura estabilizada.', safetyOfficer),
  lightningClock: rule(
    (p) => `Último trueno o relámpago hace ${p['ago']} min; la norma espera ${p['minutes']} min.`,
    'Espere; cada trueno o relámpago vuelve a empezar la cuenta.',
    safetyOfficer,
  ),
  observationMissing: rule('Hace falta una observación nueva posterior a la suspensión.', 'Regístrela primero.', safetyOfficer),
  stillCallsForHold: rule('La observación más reciente sigue exigiendo esta suspensión.', 'Espere y observe de nuevo.', safetyOfficer),
  figureMissing: rule(
    'El sitio no ha fijado ningún valor para este tipo de suspensión.',
    'Escriba quién lo decidió y con qué base, y propóngalo de nuevo.',
    safetyOfficer,
  ),
  reasonMissing: rule('Hace falta un motivo.', 'Escriba el motivo.', asker),
  liftNotProposed: rule('Nadie ha propuesto levantarla.', 'Primero lo propone la persona responsable de seguridad.', safetyOfficer),
  secondPersonSame: rule(
    'La segunda persona debe ser otra.',
    'Pida a otra persona de supervisión o de seguridad que confirme.',
    supervisor,
  ),
  secondPersonMissing: rule('Una segunda persona debe estar de acuerdo.', 'Pida su PIN a una segunda persona.', supervisor),
  noSuchReview: rule('No existe esa revisión abierta.', 'Abra otra vez la bandeja.', supervisor),
  ownReview: rule('Usted registró lo que está en revisión.', 'Decide otra persona de supervisión.', supervisor),
  changedSince: rule('Esto cambió desde que lo abrió.', 'Revise la nueva versión.', asker),
  kindFixed: rule('El tipo de intento se fija antes de empezar.', 'Solo por corrección de supervisión.', supervisor),
  afterSignOff: rule(
    'El estudiante ya tiene cerrado el día.',
    'Desde aquí corrige supervisión, con el acuerdo de una segunda persona.',
    supervisor,
  ),
  noRetestThere: rule((p) => `El derecho a repetir cubre solo ${p['stations']}.`, 'Pida un derecho que cubra esta estación.', supervisor),
  entitlementEnded: rule((p) => `El derecho a repetir terminó el ${p['until']}.`, 'Pida uno nuevo.', supervisor),
  healthEventOpen: rule('Consta un suceso de salud.', 'El personal médico debe autorizar antes de que empiece nada.', screener),
  coolDownNotDue: rule('No hay vuelta a la calma pendiente.', 'No hay nada que registrar.', nobody),
  notFinished: rule(
    (p) => `Faltan por contabilizar ${p['count']} estudiantes: ${p['who']}.`,
    'Registre, dispense o marque primero a cada uno.',
    supervisor,
  ),
  holdsOpen: rule('Queda una suspensión abierta.', 'Levántela o registre antes su desenlace.', safetyOfficer),
  reviewsOpen: rule((p) => `Hay ${p['count']} revisiones abiertas.`, 'Decida sobre ellas, o selle con un motivo.', supervisor),
  notWithoutContact: rule(
    'Un dispositivo sin contacto no decide esto.',
    'Decídalo ahora, sobre el día tal como está, con el dispositivo en contacto.',
    asker,
  ),
  unitNotOfStation: rule('Ese valor no está en una unidad de esta estación.', 'Escríbalo en la unidad que lee la estación.', stationStaff),
  notOpenYet: rule('El día no está abierto.', 'Ábralo primero.', 'Coordinación'),
} satisfies FloorWords['refusals']

export const siteRefusals = {
  wrongPin: rule('Ese no es el PIN de esta persona.', 'Escríbalo otra vez o pida uno nuevo a coordinación.', 'Coordinación'),
  tooManyTries: rule(
    (p) => `Demasiados PIN incorrectos; el próximo intento se abre en ${p['seconds']} s.`,
    'Espere o pida un PIN nuevo a coordinación.',
    'Coordinación',
  ),
  noPin: rule('Esta persona no tiene PIN todavía.', 'Coordinación asigna el primero.', 'Coordinación'),
  badgeUnknown: rule(
    'Ninguna credencial de este sitio tiene ese código.',
    'Elija el nombre en la lista. Coordinación hace las credenciales en la oficina, en Personas.',
    'Coordinación',
  ),
  badgeTakenBack: rule(
    'Esa credencial fue retirada.',
    'Elija el nombre en la lista y entregue la credencial a coordinación.',
    'Coordinación',
  ),
  badgeNotToday: rule(
    'La persona de esta credencial no está entre el personal de hoy.',
    'Entréguela a coordinación. A quien trabaja aquí hoy se le añade en la oficina y recibe una credencial propia.',
    'Coordinación',
  ),
  personLeft: rule('Esta persona ya no trabaja aquí.', 'Vuelva a añadirla.', 'Coordinación'),
  tryAgain: rule('Alguien fue más rápido.', 'Inténtelo de nuevo.', nobody),
  codeNotKnown: rule('Ese código de alta no se conoce.', 'Léalo otra vez o pida uno nuevo.', supervisor),
  codeUsed: rule('Ese código de alta ya se usó.', 'Pida uno nuevo: cada uno da de alta un dispositivo.', supervisor),
  codeExpired: rule('Ese código de alta es demasiado antiguo.', 'Pida uno nuevo.', supervisor),
  deviceRevoked: rule('Este dispositivo ya no está dado de alta.', 'Délo de alta con un código nuevo.', supervisor),
  codeTaken: rule((p) => `El código ${p['code']} es de otro estudiante.`, 'Elija otro código.', 'Coordinación'),
  noMatch: rule(
    'El código y la fecha de nacimiento no se corresponden aquí.',
    'Escriba los dos otra vez o pregunte en recepción.',
    greeter,
  ),
  lookUpWait: rule((p) => `Demasiados intentos aquí; el próximo se abre en ${p['seconds']} s.`, 'Pregunte en recepción.', greeter),
  impossibleBirthDate: rule(
    (p) => `${p['birthDate']} no puede ser la fecha de nacimiento de un estudiante.`,
    'Corrija la fecha de nacimiento.',
    'Coordinación',
  ),
  answersDoNotFit: rule('Las respuestas no encajan con las preguntas.', 'Conteste otra vez.', greeter),
} satisfies Record<SiteRule, RefusalWords>
