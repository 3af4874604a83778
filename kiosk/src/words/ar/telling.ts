// Not yet reviewed by a native speaker.
import type { Named, ReviewBecause, Telling, Written } from '../en/sentences.ts'
import { line } from './line.ts'
import { refusals } from './refusals.ts'

/** Each name stands apart from its neighbours, so that a bib keeps its place in the list. */
const list = (parts: readonly string[]): string => parts.map((one) => line`${one}`).join('، ')
const degrees = (tenths: number, unit: string) => `${(tenths / 10).toFixed(1)} ${unit === 'degC' ? '°C' : '°F'}`
const clearances = { cleared: 'تصريح', limited: 'تصريح بحدود', notToday: 'ليس اليوم' }
const holdKinds = { heat: 'حر', lightning: 'برق', air: 'هواء', cold: 'برد', other: 'سبب آخر' }
const dispositions = { stopAndWalkIn: 'التوقف والعودة مشيًا', finishThisLap: 'إكمال هذه اللفة', finishTheRun: 'إكمال الجري' }
const outcomes = { good: 'صحيحة', foul: 'خطأ', noLift: 'رفعة غير محتسبة', noFaultRerun: 'تُعاد بلا ذنب لأحد', didNotFinish: 'لم تكتمل' }
const rulings = { counts: 'تُحتسب', doesNotCount: 'لا تُحتسب', retest: 'مُنحت إعادة', settled: 'سُوّيت' }
/** The answers that our screens give; another one stands as it was told. */
const answers: Record<string, string> = {
  dismissed: 'صُرف النظر',
  putIn: 'أُضيف',
  twoCrossings: 'عبوران',
  keep: 'تبقى',
  retype: 'تُكتب من جديد',
  startedUnbriefed: 'بدأ بلا شرح',
  readAllTheSame: 'قُرئت رغم ذلك',
  bibIsRight: 'الرقم صحيح',
}
const groups = ({ sex, ageYears }: { sex: string; ageYears: number }) => line`${sex}، العمر ${ageYears}`
const ignoredAs = {
  underMinimumLap: 'بعد سابقه بوقت أقصر من اللازم',
  afterFinish: 'بعد الوصول',
  notRunning: 'ليس في الجري',
  secondWitness: 'رآه جهاز ثانٍ',
  unpaired: 'أبلغ به جهاز آخر متأخرًا ولا لفة تقابله',
}
const sheet = (paper: Written, n: Named) => (paper ? line`، نُقل من الورقة ${paper.sheet}، كتبها ${n.person(paper.writerId)}` : '')

const reasons: Record<ReviewBecause, string> = {
  noSuchAttempt: 'سُجلت قيمة لمحاولة لم يرَ أحد بدايتها',
  startedOutOfContact: 'بدأت محاولة والجهاز بلا اتصال',
  ranUnderHold: 'استمر الجري تحت تعليق لم يصل بعد',
  orderNotCertain: 'لا يمكن ترتيب الانطلاق والتعليق؛ والتعليق هو الحاكم',
  notCleared: 'بُذل جهد بلا التصريح الذي تطلبه هذه المحطة',
  stopped: 'سُجل جهد مع وجود إيقاف طبي سارٍ',
  warmUpMissing: 'بُذل جهد قبل تأكيد الإحماء',
  beyondTries: 'جرت محاولة فوق العدد المسموح',
  otherUnderWay: 'سُجل جهد أثناء جهد آخر',
  readingsDiffer: 'قراءتان لمحاولة واحدة مختلفتان',
  farApart: 'قراءتان لمحاولة واحدة متباعدتان زمنًا فلا تُجمعان',
  lapsMissing: 'سُجل وصول ولفات ناقصة؛ والنتيجة محجوزة',
  readBackDisputed: 'سمع المتدرب قيمة أخرى عند القراءة عليه',
  bodyMassMissing: 'سُجلت رفعة بلا كتلة جسم من اليوم',
  massAfterEffort: 'قيست كتلة الجسم بعد جهد',
  unusualValueKept: 'سُئل عن قيمة خارج المعتاد وأُبقيت',
  equipmentOutOfTolerance: 'تبين بعد ذلك أن الجهاز خارج حد السماح',
  clearanceConflict: 'سُجل تصريحان مختلفان؛ والأشد هو الحاكم',
  foldsIncomplete: 'قراءات الثنيات ناقصة',
  sumOutOfRange: 'مجموع الثنيات خارج مدى المعادلة',
  lateAfterSeal: 'سُجل بعد الختم',
  unreadable: 'قيمة بوحدة لا تقرؤها هذه المحطة',
  crossingUnpaired: 'عبور أبلغ به جهاز آخر متأخرًا ولا لفة تقابله؛ يُحفظ ولا يُحتسب',
  twoPlaces: 'شوهد الرقم نفسه في مكانين خلال وقت أقصر من اللازم: يُسأل لمن كان',
  clocksDisagree: 'ساعتا الجهاز تختلفان في مدة الجري',
}

/** How the day is told in Arabic. */
export const tellingAr: Telling = {
  by: (person, device) => line`بواسطة ${person}، ${device}.`,
  clocks: (happened, bandMs, recorded) => line`حدث ${happened} ± ${`${bandMs} ms`}؛ سُجل ${recorded}.`,
  notCertain: 'الترتيب غير مؤكد',
  holdGoverns: 'الترتيب غير مؤكد؛ والتعليق هو الحاكم',
  notCertainHelp: (n) => line`هامش وقته يتداخل مع هامش قيود أخرى (${n}): ما تقول ساعة إنه الأول ربما كان الثاني. والأشد هو الحاكم.`,
  nobody: 'لا أحد مسجل الدخول',
  everywhere: 'كل المناطق الخارجية',
  aHold: 'تعليق',
  aReview: 'قرار',
  theHold: (kind, zone) => line`التعليق (${holdKinds[kind]}) في ${zone}`,
  aTry: (number, station) => (number > 0 ? line`المحاولة ${number} في ${station}` : line`التدريب في ${station}`),
  because: (reason) => reasons[reason as ReviewBecause] ?? reason,
  refusal: (rule, params) => refusals[rule as keyof typeof refusals]?.says(params) ?? rule,
  sentences: {
    dayOpened: ({ facts }) => line`فُتح اليوم: ${facts.title}، ${facts.date}${facts.rehearsal ? '، تجريبي' : ''}.`,
    studentExpected: ({ studentId, walkIn, normGroup }, n) =>
      line`${n.student(studentId)}: ${walkIn ? 'أُضيف بلا موعد' : 'في القائمة'}، مجموعة المعيار ${groups(normGroup)}.`,
    staffAssigned: ({ personId, stationId, qualified }, n) =>
      line`كُلّف ${n.person(personId)} بمحطة ${n.station(stationId)}${qualified ? '' : '، بلا تأهيل مسجل لها وقُبل بسبب'}.`,
    staffReleased: ({ personId, stationId }, n) => line`أُعفي ${n.person(personId)} من محطة ${n.station(stationId)}.`,
    equipmentChecked: ({ equipmentId, passed, reference, read }, n) =>
      line`فُحص ${equipmentId}: ${passed ? 'داخل حد السماح' : 'خارج حد السماح، وهو ممنوع'}${reference && read ? line` (المرجع ${n.value(reference)}، القراءة ${n.value(read)})` : ''}.`,
    classBriefed: ({ studentIds, protocols }, n) =>
      line`أُطلع المتدربون، وعددهم ${studentIds.length}، على ${list(protocols.map(({ stationId, version }) => line`${n.station(stationId)} (الإصدار ${version})`))}.`,

    checkedIn: ({ studentId, late }, n) => line`سُجل حضور ${n.student(studentId)}${late ? '، متأخرًا' : ''}.`,
    bibBound: ({ studentId, bib, replaces }, n) =>
      line`يرتدي ${n.student(studentId)} الرقم ${bib}${replaces ? line` بدلًا من ${replaces}` : ''}.`,
    studentAbsent: ({ studentId }, n) => line`سُجل غياب ${n.student(studentId)}.`,
    studentWithdrew: ({ studentId }, n) => line`انسحب ${n.student(studentId)} من اليوم باختياره.`,
    normGroupChanged: ({ studentId, from, to, countersigned }, n) =>
      line`${n.student(studentId)}: تغيرت مجموعة المعيار من ${groups(from)} إلى ${groups(to)}، بموافقة ${n.person(countersigned.personId)}.`,

    clearanceRecorded: ({ studentId, status, conflictsWith }, n) =>
      line`${n.student(studentId)}: سُجل القرار الطبي: ${clearances[status]}${conflictsWith.length > 0 ? '، إلى جانب قرار آخر لم يُرَ؛ والأشد هو الحاكم' : ''}.`,
    clearanceWithdrawn: ({ studentId }, n) => line`${n.student(studentId)}: سُحب التصريح.`,
    weighed: ({ studentId, scaleId, afterEffort }, n) => line`وُزن ${n.student(studentId)} على ${scaleId}${afterEffort ? '، بعد جهد' : ''}.`,
    warmUpConfirmed: ({ studentId }, n) => line`${n.student(studentId)}: تأكد الإحماء.`,

    queueJoined: ({ studentId, stationId }, n) => line`انضم ${n.student(studentId)} إلى طابور ${n.station(stationId)}.`,
    queueLeft: ({ studentId, stationId }, n) => line`غادر ${n.student(studentId)} طابور ${n.station(stationId)}.`,
    calledUp: ({ studentId, stationId }, n) => line`نودي ${n.student(studentId)} إلى ${n.station(stationId)}.`,
    sentBack: ({ studentId, stationId }, n) => line`أُعيد ${n.student(studentId)} إلى طابور ${n.station(stationId)}.`,

    attemptStarted: ({ studentId, stationId, official, number, load, reviewId, fromPaper }, n) =>
      line`بدأ ${n.student(studentId)} ${official ? line`المحاولة الرسمية ${number}` : 'تدريبًا'} في ${n.station(stationId)}${load ? line` بحمل ${n.value(load)}` : ''}${reviewId ? '، أُبلغ بها لاحقًا؛ تنتظر قرارًا' : ''}${sheet(fromPaper, n)}.`,
    attemptReleased: ({ studentId, attemptId }, n) =>
      line`${n.student(studentId)}: أُلغيت ${n.attempt(studentId, attemptId)} ورُدّت المحاولة.`,
    resultRecorded: ({ studentId, stationId, attemptId, outcome, value, folds, fault, as, keptUnusual, fromPaper }, n) =>
      line`${n.student(studentId)}، ${n.attempt(studentId, attemptId) || n.station(stationId)}: ${outcomes[outcome]}${value ? line` ${n.value(value)}` : ''}${folds.length > 0 ? line`، قراءات الثنيات: ${folds.length}` : ''}${fault ? line` (${fault})` : ''}${as === 'secondWitness' ? '، قراءة ثانية للمحاولة نفسها' : as === 'extra' ? '، زائدة، لا تُحتسب' : ''}${keptUnusual ? '، غير معتادة، سُئل عنها وأُبقيت' : ''}${sheet(fromPaper, n)}.`,
    readBackDisputed: ({ studentId, attemptId }, n) =>
      line`سمع ${n.student(studentId)} قيمة أخرى عند قراءة ${n.attempt(studentId, attemptId)}.`,
    differenceAcknowledged: ({ studentId, attemptId }, n) =>
      line`قراءتا ${n.attempt(studentId, attemptId)} للمتدرب ${n.student(studentId)} مختلفتان؛ وأُقرّ بذلك.`,
    promptAnswered: ({ studentId, shown, answer, reason }, n) =>
      line`سؤال${studentId ? line` عن ${n.student(studentId)}` : ''}: «${shown}» الجواب: ${answers[answer] ?? answer}${reason ? '، مع سبب' : ''}.`,
    attemptInterrupted: ({ studentId, attemptId, by, holdId }, n) =>
      line`${n.student(studentId)}: قُطعت ${n.attempt(studentId, attemptId)} بسبب ${by === 'hold' ? (holdId ? n.hold(holdId) : 'تعليق') : by === 'medicalStop' ? 'إيقاف طبي' : 'انسحاب'}؛ لا محاولة مستعملة.`,

    waveStarted: ({ stationId, studentIds, official, underHold, fromPaper }, n) =>
      line`انطلقت دفعة من ${studentIds.length}${official ? '' : ' تدريبًا'} في ${n.station(stationId)}${underHold ? '؛ الترتيب غير مؤكد، والتعليق هو الحاكم' : ''}${sheet(fromPaper, n)}.`,
    crossingRecorded: ({ studentId, line: crossed, elapsedMs, ignored, fromPaper }, n) =>
      line`عبر ${n.student(studentId)} ${crossed === 'finish' ? 'خط الوصول' : 'الخط'} عند ${n.duration(elapsedMs)}${ignored ? line`، لا يُحتسب: ${ignoredAs[ignored]}` : ''}${sheet(fromPaper, n)}.`,
    waveTakenOver: () => 'تولى جهاز ثانٍ دفعة جارية؛ الساعة واللفات مستمرة.',
    crossingTakenBack: ({ studentId }, n) => line`سُحب عبور ${n.student(studentId)}؛ واللمسة باقية في السجل.`,
    lapInferred: ({ studentId, elapsedMs, witnessId }, n) =>
      line`استُنتجت لفة للمتدرب ${n.student(studentId)} عند ${n.duration(elapsedMs)}${witnessId ? line`، الشاهد ${n.person(witnessId)}` : ''}.`,
    finishRecorded: ({ studentId, elapsedMs, laps, reviewId }, n) =>
      line`وصل ${n.student(studentId)} عند ${n.duration(elapsedMs)}، عدد اللفات ${laps}${reviewId ? '؛ والنتيجة محجوزة' : ''}.`,

    studentStopped: ({ studentId, zoneId }, n) =>
      line`سُجل إيقاف طبي للمتدرب ${n.student(studentId)}${zoneId ? line` في ${n.zone(zoneId)}` : ''}.`,
    stopperNamed: ({ studentId, personId }, n) => line`قال ${n.person(personId)} إنه أوقف ${n.student(studentId)}.`,
    studentReferred: ({ studentId, to }, n) =>
      line`أُحيل ${n.student(studentId)} إلى ${{ screener: 'الفاحص الطبي', clinician: 'طبيب', ambulance: 'طاقم الإسعاف' }[to]}.`,
    referralAnswered: ({ studentId, outcome }, n) => line`أُجيب عن إحالة ${n.student(studentId)}: ${clearances[outcome]}.`,
    studentRestored: ({ studentId }, n) => line`رفع الفاحص الطبي الإيقاف عن ${n.student(studentId)}.`,
    stopAnswered: ({ studentId, answer }, n) =>
      line`إيقاف ${n.student(studentId)}: ${answer === 'arrived' ? 'وصل من يتولاه' : 'وصل التنبيه'}.`,
    healthEventReported: ({ studentId }, n) => line`أُبلغ عن أمر صحي للمتدرب ${n.student(studentId)}؛ لا يبدأ شيء حتى يصرّح الفاحص الطبي.`,
    staffCalled: ({ deviceId }, n) => line`طلب أحدهم موظفًا عند ${n.device(deviceId)}.`,
    callAnswered: () => 'أُجيب طلب موظف.',

    readingReceived: ({ wbgtTenths, unit, zoneId, instrumentId, settled, saidSettledEarly, usable, readAt, readBy }, n) =>
      line`WBGT ${wbgtTenths === null ? 'بلا قيمة' : degrees(wbgtTenths, unit)} في ${n.zone(zoneId)}، قُرئت ${n.clock(readAt)} على ${instrumentId}${readBy ? line`، قرأها ${n.person(readBy)}` : ''}${settled ? (saidSettledEarly ? '، قيل إنها مستقرة قبل الأوان' : '') : '، غير مستقرة'}${usable ? '' : '، لا تصلح للبدء ولا للرفع'}.`,
    holdRaised: ({ kind, zoneId, raisedBy, underWay }, n) =>
      line`صدر تعليق على ${n.zone(zoneId)} (${holdKinds[kind]})${{ person: '', device: ' من جهاز لا أحد مسجل عليه', policy: ' بحكم سياسة الحر', takenOver: '، منقول من قبل فتح اليوم' }[raisedBy]}؛ الجارون: ${underWay.length}${underWay.some((one) => one.orderNotCertain) ? '، الترتيب غير مؤكد لبعضهم: التعليق هو الحاكم' : ''}.`,
    holdAcknowledged: ({ holdId, deviceId }, n) => line`تلقى ${n.device(deviceId)} ${n.hold(holdId)}.`,
    holdHeardByRadio: ({ holdId, deviceId, saidBy }, n) =>
      line`قال ${n.person(saidBy)} باللاسلكي إنه سمع ${n.hold(holdId)}؛ ولم يؤكده الجهاز ${n.device(deviceId)} نفسه.`,
    holdDisposed: ({ holdId, disposition, studentIds }, n) =>
      line`للجارين تحت ${n.hold(holdId)}، وعددهم ${studentIds.length}: ${dispositions[disposition]}.`,
    hazardObserved: ({ kind, value, zoneId }, n) =>
      line`${{ thunder: 'رعد', flash: 'وميض برق', airIndex: 'مؤشر جودة الهواء', windChill: 'برودة الريح' }[kind]}${value === null ? '' : line` ${kind === 'windChill' ? degrees(value, 'degC') : value}`}، رُصد في ${n.zone(zoneId)}.`,
    liftProposed: ({ holdId, readingId }, n) => line`اقتُرح رفع ${n.hold(holdId)}${readingId ? ' بناءً على قراءة' : ''}.`,
    holdLifted: ({ holdId, proposedBy }, n) => line`رُفع ${n.hold(holdId)}؛ واقترح ذلك ${n.person(proposedBy)}.`,
    radioConfirmed: ({ stationId, spokeTo, until }, n) =>
      line`تأكيد باللاسلكي لمحطة ${n.station(stationId)}: جرى الحديث مع ${n.person(spokeTo)}، يسري حتى ${n.clock(until)}.`,
    headcountTaken: ({ zoneId, present, missing }, n) =>
      line`عدّ الحاضرين في ${n.zone(zoneId)}: ${present.length}${missing.length > 0 ? line`، الناقصون: ${list(missing.map((one) => n.student(one)))}` : '، لا ينقص أحد'}.`,
    seenAtHeadcount: ({ zoneId, studentIds, seen }, n) =>
      line`في عدّ الحاضرين في ${n.zone(zoneId)}، ${seen ? 'سُجّلت رؤية' : 'سُحبت رؤية'}: ${list(studentIds.map((one) => n.student(one)))}.`,

    reviewOpened: ({ because, about }, n) =>
      line`ينتظر قرارًا: ${n.because(because)}${about.studentId ? line`، ${n.student(about.studentId)}` : ''}${about.equipmentId ? line`، ${about.equipmentId}` : ''}.`,
    reviewRuled: ({ reviewId, ruling }, n) => line`القرار: ${rulings[ruling]} (${n.review(reviewId)}).`,
    reviewSettled: ({ reviewId }, n) => line`لم يعد مفتوحًا: ${n.review(reviewId)}؛ سوّاه فعل آخر.`,
    corrected: ({ studentId, attemptId, change, countersigned }, n) =>
      line`${n.student(studentId)}: ${n.attempt(studentId, attemptId)} ${
        change.kind === 'value'
          ? line`صُححت إلى ${n.value(change.value)}`
          : change.kind === 'void'
            ? 'أُبطلت'
            : change.kind === 'official'
              ? `صارت ${change.official ? 'رسمية' : 'تدريبًا'}`
              : line`نُقلت إلى ${n.student(change.toStudentId)}`
      }${countersigned ? line`، بموافقة ${n.person(countersigned.personId)}` : ''}.`,
    retestGranted: ({ studentId, stationIds, until, because }, n) =>
      line`يجوز للمتدرب ${n.student(studentId)} أن يعيد ${list(stationIds.map((one) => n.station(one)))} حتى ${until}${{ hold: '، لأن تعليقًا قطعها', medicalStop: '، لأن إيقافًا طبيًا قطعها', ruling: '، بقرار', supervisor: '' }[because]}.`,
    coolDownConfirmed: ({ studentId, lookOver }, n) =>
      line`${n.student(studentId)}: سُجلت لفة التهدئة والمعاينة${lookOver === 'referred' ? '، مع إحالة' : ''}.`,
    coolDownExcused: ({ studentId }, n) => line`${n.student(studentId)}: أُعفي من التهدئة بسبب.`,
    studentSignedOff: ({ studentId }, n) => line`أُنهي يوم ${n.student(studentId)}.`,

    daySealed: ({ openReviews }) => line`خُتم اليوم${openReviews > 0 ? line`، والمفتوح ${openReviews}، قُبل بسبب` : '، ولا شيء مفتوح'}.`,
    afterOpened: ({ sealedVersion }) => line`ما يلي سُجل بعد الختم عند القيد ${sealedVersion}.`,
    reopened: ({ countersigned }, n) => line`أُعيد فتح اليوم المختوم بسبب، بموافقة ${n.person(countersigned.personId)}. ويبقى الختم كما هو.`,

    actRefused: ({ rule, params, studentId, stationId }, n) =>
      line`لم يُمنح${studentId ? line` للمتدرب ${n.student(studentId)}` : ''}${stationId ? line` في ${n.station(stationId)}` : ''}: ${n.refusal(rule, params)}`,
  },
}
