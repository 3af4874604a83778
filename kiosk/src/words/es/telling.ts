// Not yet reviewed by a native speaker.
import type { Named, ReviewBecause, Telling, Written } from '../en/sentences.ts'
import { refusals } from './refusals.ts'

const list = (parts: readonly string[]): string => parts.join(', ')
const celsius = (tenths: number) => (tenths / 10).toFixed(1)
const clearances = { cleared: 'autorización', limited: 'autorización con límites', notToday: 'hoy no' }
const holdKinds = { heat: 'calor', lightning: 'rayos', air: 'aire', cold: 'frío', other: 'otro motivo' }
const dispositions = { stopAndWalkIn: 'parar y volver andando', finishThisLap: 'terminar esta vuelta', finishTheRun: 'terminar la carrera' }
const outcomes = {
  good: 'válido',
  foul: 'falta',
  noLift: 'levantamiento nulo',
  noFaultRerun: 'se repite sin culpa de nadie',
  didNotFinish: 'sin terminar',
}
const rulings = { counts: 'cuenta', doesNotCount: 'no cuenta', retest: 'se concede una repetición', settled: 'resuelto' }
/** The answers that our screens give; another one stands as it was told. */
const answers: Record<string, string> = {
  dismissed: 'descartado',
  putIn: 'se añadió',
  twoCrossings: 'dos pasos',
  keep: 'se mantiene',
  retype: 'se vuelve a escribir',
  startedUnbriefed: 'empezó sin la explicación',
  readAllTheSame: 'se leyó de todos modos',
  bibIsRight: 'el dorsal es el correcto',
}
const groups = ({ sex, ageYears }: { sex: string; ageYears: number }) => `${sex}, ${ageYears} años`
const ignoredAs = {
  underMinimumLap: 'demasiado pronto tras el anterior',
  afterFinish: 'después de la llegada',
  notRunning: 'no estaba corriendo',
  secondWitness: 'visto por un segundo dispositivo',
  unpaired: 'comunicado tarde por otro dispositivo y sin vuelta que le corresponda',
}
const sheet = (paper: Written, n: Named) => (paper ? `, pasado de la hoja ${paper.sheet}, escrita por ${n.person(paper.writerId)}` : '')

const reasons: Record<ReviewBecause, string> = {
  noSuchAttempt: 'se registró un valor de un intento que nadie vio empezar',
  startedOutOfContact: 'un intento empezó con la tableta sin contacto',
  ranUnderHold: 'la carrera siguió bajo una suspensión que no se había recibido',
  orderNotCertain: 'no se puede ordenar una salida y una suspensión; rige la suspensión',
  notCleared: 'hubo un esfuerzo sin la autorización que pide esta estación',
  stopped: 'se registró un esfuerzo con una parada médica en vigor',
  warmUpMissing: 'hubo un esfuerzo antes de confirmar el calentamiento',
  beyondTries: 'hubo un intento por encima del número permitido',
  otherUnderWay: 'se registró un esfuerzo con otro en curso',
  readingsDiffer: 'dos lecturas de un intento difieren',
  farApart: 'dos lecturas de un intento distan demasiado en el tiempo para unirlas',
  lapsMissing: 'se registró una llegada con vueltas de menos; el resultado se retiene',
  readBackDisputed: 'se oyó otro valor en la lectura en voz alta',
  bodyMassMissing: 'se registró un levantamiento sin masa corporal de hoy',
  massAfterEffort: 'la masa corporal se tomó tras un esfuerzo',
  unusualValueKept: 'se preguntó por un valor fuera de lo habitual y se mantuvo',
  equipmentOutOfTolerance: 'después se vio que el equipo estaba fuera de tolerancia',
  clearanceConflict: 'dos personas registraron autorizaciones distintas; rige la más estricta',
  foldsIncomplete: 'faltan lecturas de pliegues',
  sumOutOfRange: 'la suma de pliegues queda fuera del intervalo de la ecuación',
  lateAfterSeal: 'se registró después del sello',
  unreadable: 'un valor no está en una unidad que lea esta estación',
  crossingUnpaired: 'un paso comunicado tarde por otra tableta no corresponde a ninguna vuelta; se conserva y no cuenta',
  twoPlaces: 'el mismo dorsal se vio en dos lugares en demasiado poco tiempo: se pregunta de quién era',
  clocksDisagree: 'los dos relojes de la tableta no coinciden en la duración de la carrera',
}

/** How the day is told in Spanish. */
export const tellingEs: Telling = {
  by: (person, device) => `Por ${person}, ${device}.`,
  clocks: (happened, bandMs, recorded) => `Ocurrió a las ${happened} ± ${bandMs} ms; registrado a las ${recorded}.`,
  notCertain: 'Orden incierto',
  holdGoverns: 'Orden incierto; rige la suspensión',
  notCertainHelp: (n) =>
    `Su banda se solapa con la de otros asientos (${n}): lo que un reloj dice primero pudo ser lo segundo. Rige lo más estricto.`,
  nobody: 'nadie con sesión iniciada',
  everywhere: 'todo el exterior',
  aHold: 'una suspensión',
  aReview: 'una decisión',
  theHold: (kind, zone) => `la suspensión (${holdKinds[kind]}) en ${zone}`,
  aTry: (number, station) => (number > 0 ? `el intento ${number} en ${station}` : `la práctica en ${station}`),
  because: (reason) => reasons[reason as ReviewBecause] ?? reason,
  refusal: (rule, params) => refusals[rule as keyof typeof refusals]?.says(params) ?? rule,
  sentences: {
    dayOpened: ({ facts }) => `Se abrió el día: ${facts.title}, ${facts.date}${facts.rehearsal ? ', un ensayo' : ''}.`,
    studentExpected: ({ studentId, walkIn, normGroup }, n) =>
      `${n.student(studentId)} ${walkIn ? 'se añadió sin cita' : 'está en la lista'}, grupo de norma ${groups(normGroup)}.`,
    staffAssigned: ({ personId, stationId, qualified }, n) =>
      `Se asignó a ${n.person(personId)} a ${n.station(stationId)}${qualified ? '' : ', sin constar cualificación allí y aceptado con un motivo'}.`,
    staffReleased: ({ personId, stationId }, n) => `${n.person(personId)} dejó de estar en ${n.station(stationId)}.`,
    equipmentChecked: ({ equipmentId, passed, reference, read }, n) =>
      `Se comprobó ${equipmentId}: ${passed ? 'dentro de tolerancia' : 'fuera de tolerancia, queda bloqueado'}${reference && read ? ` (referencia ${n.value(reference)}, leído ${n.value(read)})` : ''}.`,
    classBriefed: ({ studentIds, protocols }, n) =>
      `Se informó a ${studentIds.length} estudiantes sobre ${list(protocols.map(({ stationId, version }) => `${n.station(stationId)} (versión ${version})`))}.`,

    checkedIn: ({ studentId, late }, n) => `${n.student(studentId)} registró su llegada${late ? ', tarde' : ''}.`,
    bibBound: ({ studentId, bib, replaces }, n) =>
      `${n.student(studentId)} lleva el dorsal ${bib}${replaces ? ` en lugar del ${replaces}` : ''}.`,
    studentAbsent: ({ studentId }, n) => `Se anotó la ausencia de ${n.student(studentId)}.`,
    studentWithdrew: ({ studentId }, n) => `${n.student(studentId)} se retiró del día por decisión propia.`,
    normGroupChanged: ({ studentId, from, to, countersigned }, n) =>
      `${n.student(studentId)}: el grupo de norma pasó de ${groups(from)} a ${groups(to)}, con el acuerdo de ${n.person(countersigned.personId)}.`,

    clearanceRecorded: ({ studentId, status, conflictsWith }, n) =>
      `${n.student(studentId)}: decisión médica registrada: ${clearances[status]}${conflictsWith.length > 0 ? ', junto a otra que no se había visto; rige la más estricta' : ''}.`,
    clearanceWithdrawn: ({ studentId }, n) => `${n.student(studentId)}: autorización retirada.`,
    weighed: ({ studentId, scaleId, afterEffort }, n) =>
      `Se pesó a ${n.student(studentId)} en ${scaleId}${afterEffort ? ', después de un esfuerzo' : ''}.`,
    warmUpConfirmed: ({ studentId }, n) => `${n.student(studentId)}: calentamiento confirmado.`,

    queueJoined: ({ studentId, stationId }, n) => `${n.student(studentId)} entró en la cola de ${n.station(stationId)}.`,
    queueLeft: ({ studentId, stationId }, n) => `${n.student(studentId)} salió de la cola de ${n.station(stationId)}.`,
    calledUp: ({ studentId, stationId }, n) => `Se llamó a ${n.student(studentId)} a ${n.station(stationId)}.`,
    sentBack: ({ studentId, stationId }, n) => `${n.student(studentId)} volvió a la cola de ${n.station(stationId)}.`,

    attemptStarted: ({ studentId, stationId, official, number, load, reviewId, fromPaper }, n) =>
      `${n.student(studentId)} empezó ${official ? `el intento oficial ${number}` : 'una práctica'} en ${n.station(stationId)}${load ? ` con ${n.value(load)}` : ''}${reviewId ? ', comunicado después; espera una decisión' : ''}${sheet(fromPaper, n)}.`,
    attemptReleased: ({ studentId, attemptId }, n) =>
      `${n.student(studentId)}: se anuló ${n.attempt(studentId, attemptId)} y se devolvió el intento.`,
    resultRecorded: ({ studentId, stationId, attemptId, outcome, value, folds, fault, as, keptUnusual, fromPaper }, n) =>
      `${n.student(studentId)}, ${n.attempt(studentId, attemptId) || n.station(stationId)}: ${outcomes[outcome]}${value ? ` ${n.value(value)}` : ''}${folds.length > 0 ? `, ${folds.length} lecturas de pliegues` : ''}${fault ? ` (${fault})` : ''}${as === 'secondWitness' ? ', segunda lectura del mismo intento' : as === 'extra' ? ', de más, no cuenta' : ''}${keptUnusual ? ', inusual, se preguntó y se mantuvo' : ''}${sheet(fromPaper, n)}.`,
    readBackDisputed: ({ studentId, attemptId }, n) =>
      `${n.student(studentId)} oyó otro valor al leer en voz alta ${n.attempt(studentId, attemptId)}.`,
    differenceAcknowledged: ({ studentId, attemptId }, n) =>
      `Las dos lecturas de ${n.attempt(studentId, attemptId)} de ${n.student(studentId)} difieren; quedó reconocido.`,
    promptAnswered: ({ studentId, shown, answer, reason }, n) =>
      `Se preguntó${studentId ? ` sobre ${n.student(studentId)}` : ''}: «${shown}» Respuesta: ${answers[answer] ?? answer}${reason ? ', con un motivo' : ''}.`,
    attemptInterrupted: ({ studentId, attemptId, by, holdId }, n) =>
      `${n.student(studentId)}: ${n.attempt(studentId, attemptId)} se interrumpió por ${by === 'hold' ? (holdId ? n.hold(holdId) : 'una suspensión') : by === 'medicalStop' ? 'una parada médica' : 'retirada'}; no se gasta intento.`,

    waveStarted: ({ stationId, studentIds, official, underHold, fromPaper }, n) =>
      `Salió una tanda de ${studentIds.length} ${official ? '' : 'de práctica '}en ${n.station(stationId)}${underHold ? '; orden incierto, rige la suspensión' : ''}${sheet(fromPaper, n)}.`,
    crossingRecorded: ({ studentId, line, elapsedMs, ignored, fromPaper }, n) =>
      `${n.student(studentId)} cruzó la línea${line === 'finish' ? ' de llegada' : ''} a los ${n.duration(elapsedMs)}${ignored ? `, no se cuenta: ${ignoredAs[ignored]}` : ''}${sheet(fromPaper, n)}.`,
    waveTakenOver: () => 'Un segundo dispositivo se hizo cargo de una tanda en curso; el reloj y las vueltas siguen.',
    crossingTakenBack: ({ studentId }, n) => `Se retiró un paso de ${n.student(studentId)}; el toque queda en el registro.`,
    lapInferred: ({ studentId, elapsedMs, witnessId }, n) =>
      `Se dedujo una vuelta de ${n.student(studentId)} a los ${n.duration(elapsedMs)}${witnessId ? `, testigo ${n.person(witnessId)}` : ''}.`,
    finishRecorded: ({ studentId, elapsedMs, laps, reviewId }, n) =>
      `${n.student(studentId)} llegó a los ${n.duration(elapsedMs)} con ${laps} vueltas${reviewId ? '; el resultado se retiene' : ''}.`,

    studentStopped: ({ studentId, zoneId }, n) =>
      `Parada médica registrada de ${n.student(studentId)}${zoneId ? ` en ${n.zone(zoneId)}` : ''}.`,
    stopperNamed: ({ studentId, personId }, n) => `${n.person(personId)} dijo que había parado a ${n.student(studentId)}.`,
    studentReferred: ({ studentId, to }, n) =>
      `Se derivó a ${n.student(studentId)} a ${{ screener: 'personal médico', clinician: 'una clínica o un clínico', ambulance: 'la ambulancia' }[to]}.`,
    referralAnswered: ({ studentId, outcome }, n) => `Se respondió a la derivación de ${n.student(studentId)}: ${clearances[outcome]}.`,
    studentRestored: ({ studentId }, n) => `El personal médico levantó la parada de ${n.student(studentId)}.`,
    stopAnswered: ({ studentId, answer }, n) =>
      `Parada de ${n.student(studentId)}: ${answer === 'arrived' ? 'alguien llegó al lugar' : 'aviso recibido'}.`,
    healthEventReported: ({ studentId }, n) =>
      `Se comunicó un suceso de salud de ${n.student(studentId)}; nada empieza hasta que el personal médico autorice.`,
    staffCalled: ({ deviceId }, n) => `Alguien pidió personal en ${n.device(deviceId)}.`,
    callAnswered: () => 'Se atendió una llamada al personal.',

    readingReceived: ({ wbgtTenths, unit, zoneId, instrumentId, settled, saidSettledEarly, usable, readAt, readBy }, n) =>
      `WBGT ${wbgtTenths === null ? 'sin valor' : `${celsius(wbgtTenths)} ${unit === 'degC' ? '°C' : '°F'}`} en ${n.zone(zoneId)}, leído a las ${n.clock(readAt)} con ${instrumentId}${readBy ? ` por ${n.person(readBy)}` : ''}${settled ? (saidSettledEarly ? ', se dijo estabilizado antes de tiempo' : '') : ', sin estabilizar'}${usable ? '' : ', no vale para empezar ni para levantar'}.`,
    holdRaised: ({ kind, zoneId, raisedBy, underWay }, n) =>
      `Suspensión ordenada en ${n.zone(zoneId)} (${holdKinds[kind]})${{ person: '', device: ' desde un dispositivo sin sesión iniciada', policy: ' por la norma de calor', takenOver: ', venía de antes de abrir el día' }[raisedBy]}; ${underWay.length} en curso${underWay.some((one) => one.orderNotCertain) ? ', orden incierto para alguno: rige la suspensión' : ''}.`,
    holdAcknowledged: ({ holdId, deviceId }, n) => `${n.device(deviceId)} ha recibido ${n.hold(holdId)}.`,
    holdHeardByRadio: ({ holdId, deviceId, saidBy }, n) =>
      `${n.person(saidBy)} dijo por radio que ha oído ${n.hold(holdId)}; ${n.device(deviceId)} no lo había confirmado.`,
    holdDisposed: ({ holdId, disposition, studentIds }, n) =>
      `Para las ${studentIds.length} personas en curso bajo ${n.hold(holdId)}: ${dispositions[disposition]}.`,
    hazardObserved: ({ kind, value, zoneId }, n) =>
      `${{ thunder: 'Trueno', flash: 'Relámpago', airIndex: 'Índice de calidad del aire', windChill: 'Sensación térmica' }[kind]}${value === null ? '' : ` ${kind === 'windChill' ? `${celsius(value)} °C` : value}`}, observado en ${n.zone(zoneId)}.`,
    liftProposed: ({ holdId, readingId }, n) => `Se propuso levantar ${n.hold(holdId)}${readingId ? ' con una lectura' : ''}.`,
    holdLifted: ({ holdId, proposedBy }, n) => `Se levantó ${n.hold(holdId)}; lo había propuesto ${n.person(proposedBy)}.`,
    radioConfirmed: ({ stationId, spokeTo, until }, n) =>
      `Confirmación por radio para ${n.station(stationId)}: se habló con ${n.person(spokeTo)}, vale hasta las ${n.clock(until)}.`,
    headcountTaken: ({ zoneId, present, missing }, n) =>
      `Recuento en ${n.zone(zoneId)}: ${present.length} presentes${missing.length > 0 ? `, faltan ${list(missing.map((one) => n.student(one)))}` : ', no falta nadie'}.`,
    seenAtHeadcount: ({ zoneId, studentIds, seen }, n) =>
      `En el recuento en ${n.zone(zoneId)} se anotó ${seen ? 'a la vista' : 'que al final no se ve'} a ${list(studentIds.map((one) => n.student(one)))}.`,

    reviewOpened: ({ because, about }, n) =>
      `Espera una decisión: ${n.because(because)}${about.studentId ? `, ${n.student(about.studentId)}` : ''}${about.equipmentId ? `, ${about.equipmentId}` : ''}.`,
    reviewRuled: ({ reviewId, ruling }, n) => `Decidido: ${rulings[ruling]} (${n.review(reviewId)}).`,
    reviewSettled: ({ reviewId }, n) => `Ya no está pendiente: ${n.review(reviewId)}; lo resolvió otro acto.`,
    corrected: ({ studentId, attemptId, change, countersigned }, n) =>
      `${n.student(studentId)}: ${n.attempt(studentId, attemptId)} ${
        change.kind === 'value'
          ? `se corrigió a ${n.value(change.value)}`
          : change.kind === 'void'
            ? 'quedó sin efecto'
            : change.kind === 'official'
              ? `pasó a ser ${change.official ? 'oficial' : 'práctica'}`
              : `pasó a ${n.student(change.toStudentId)}`
      }${countersigned ? `, con el acuerdo de ${n.person(countersigned.personId)}` : ''}.`,
    retestGranted: ({ studentId, stationIds, until, because }, n) =>
      `${n.student(studentId)} puede repetir ${list(stationIds.map((one) => n.station(one)))} hasta ${until}${{ hold: ', por interrumpirlo una suspensión', medicalStop: ', por interrumpirlo una parada médica', ruling: ', por una decisión', supervisor: '' }[because]}.`,
    coolDownConfirmed: ({ studentId, lookOver }, n) =>
      `${n.student(studentId)}: vuelta a la calma y revisión registradas${lookOver === 'referred' ? ', con derivación' : ''}.`,
    coolDownExcused: ({ studentId }, n) => `${n.student(studentId)}: vuelta a la calma dispensada con un motivo.`,
    studentSignedOff: ({ studentId }, n) => `Se cerró el día de ${n.student(studentId)}.`,

    daySealed: ({ openReviews }) =>
      `El día se selló${openReviews > 0 ? ` con ${openReviews} pendientes, aceptado con un motivo` : ', sin nada pendiente'}.`,
    afterOpened: ({ sealedVersion }) => `Lo que sigue se registró después del sello en el asiento ${sealedVersion}.`,
    reopened: ({ countersigned }, n) =>
      `El día sellado se reabrió con un motivo, con el acuerdo de ${n.person(countersigned.personId)}. El sello queda como está.`,

    actRefused: ({ rule, params, studentId, stationId }, n) =>
      `No concedido${studentId ? ` a ${n.student(studentId)}` : ''}${stationId ? ` en ${n.station(stationId)}` : ''}: ${n.refusal(rule, params)}`,
  },
}
