import { partsOfPlacing } from '@musterbook/scoring/placing-label'
import type { AttemptView } from '@musterbook/day/views/parts'
import type { StationResult } from '@musterbook/day/results'
import type { ProgressLine } from '../standings.ts'
import type { Language } from '@musterbook/vocabulary/people'

type Known<Key extends string> = Record<Key, string> & Record<string, string | undefined>

/** Everything that a student's result sheet says. What a rule, a protocol or a source says stands on it as it was adopted. */
export interface StudentWords {
  /** null once a native speaker has read them. */
  notReviewed: string | null
  decimalMark: '.' | ','
  testDay: string
  classAndBib: string
  noBib: string
  normGroup: string
  years: (years: number) => string
  bodyMass: string
  scale: string
  afterEffort: string
  stateOfRecord: string
  sealed: string
  open: string
  results: string
  test: string
  result: string
  percentile: string
  state: string
  basis: string
  group: string
  /** A place in a table: '60' is met, 'below 10', '60 or better', or none. */
  placing: Record<'met' | 'below' | 'orBetter', (n: string) => string> & { none: string }
  version: string
  timing: string
  inventedProtocol: string
  norms: string
  invented: string
  noNorms: string
  since: (date: string) => string
  then: string
  now: string
  difference: string
  whatItSays: string
  verdicts: Record<ProgressLine['progress']['verdict'], string>
  directions: Record<'better' | 'worse' | 'same', string>
  different: string
  alike: string
  placeInDay: (first: number, later: number) => string
  heatDiffers: (first: string, later: string) => string
  raterDiffers: string
  noReading: string
  statement: string
  working: string
  asAdopted: string
  tries: string
  orderAndRest: string
  noneTried: string
  thenNext: string
  retests: string
  until: string
  because: Known<'hold' | 'medicalStop' | 'ruling' | 'supervisor'>
  train: string
  between: (from: number, to: number) => string
  notClearly: string
  errorNote: string
  footer: (printedAt: string) => string
  rehearsal: string
  states: Record<StationResult['state'], string>
  notes: Known<'oneLapInferred' | 'lapsInferred' | 'twoReadings' | 'unusualKept' | 'fromPaper' | 'corrected' | 'countsByRuling'>
  methods: Known<'hand' | 'electronic' | 'scale' | 'barAndPlates' | 'instrument'>
  footLine: (centimetres: number) => string
  outcomes: Record<AttemptView['observations'][number]['outcome'], string>
  corrections: Known<'value' | 'void' | 'official' | 'reassign'>
  officialTry: (n: number | null) => string
  extra: string
  practice: string
  folds: string
  fat: string
  load: string
  finishAfter: (time: string, laps: number) => string
  interrupted: Record<'hold' | 'medicalStop' | 'withdrawal', string>
  underReview: string
}

export const studentWords: Record<Language, StudentWords> = {
  en: {
    notReviewed: null,
    decimalMark: '.',
    testDay: 'Test day',
    classAndBib: 'Class, bib',
    noBib: 'no bib',
    normGroup: 'Norm group',
    years: (years) => `${years} years on the test date`,
    bodyMass: 'Body mass',
    scale: 'scale',
    afterEffort: 'taken after an effort',
    stateOfRecord: 'State of the record',
    sealed: 'The day is sealed.',
    open: 'The day is open: results are provisional.',
    results: 'Results',
    test: 'Test',
    result: 'Result',
    percentile: 'Percentile',
    state: 'State',
    basis: 'Basis',
    group: 'group',
    placing: { met: (n) => n, below: (n) => `below ${n}`, orBetter: (n) => `${n} or better`, none: 'no norm' },
    version: 'version',
    timing: 'timing',
    inventedProtocol: 'protocol invented for this site',
    norms: 'Norms',
    invented: 'invented',
    noNorms: 'No norms.',
    since: (date) => `Since ${date}`,
    then: 'Then',
    now: 'Now',
    difference: 'Difference',
    whatItSays: 'What it says',
    verdicts: {
      clearChange: 'beyond measurement error',
      possibleChange: 'possible, near measurement error',
      noClearChange: 'no clear change beyond measurement error',
      errorNotKnown: 'measurement error of this test is not known here',
      notDirectlyComparable: 'not directly comparable',
    },
    directions: { better: 'better', worse: 'less good', same: 'the same' },
    different: 'different',
    alike: 'measured in the same way',
    placeInDay: (first, later) => `place in the day differs (${first}, then ${later})`,
    heatDiffers: (first, later) => `heat differs: ${first}, then ${later}`,
    raterDiffers: 'measured by another person than the first time',
    noReading: 'no reading',
    statement: 'The student’s own statement',
    working: 'How each score was got',
    asAdopted: '',
    tries: 'Tries',
    orderAndRest: 'Order and rest',
    noneTried: 'No test was tried.',
    thenNext: ', then ',
    retests: 'Retests',
    until: 'until',
    because: {
      hold: 'interrupted by a hold',
      medicalStop: 'interrupted by a medical stop',
      ruling: 'by a ruling',
      supervisor: 'granted by a supervisor',
    },
    train: 'Where to train first',
    between: (from, to) => `between the ${from}th and the ${to}th percentile`,
    notClearly: 'not clearly lower than the others',
    errorNote:
      'A difference smaller than the measurement error of a test is no clear change. To question a value, ask the coordinator: nothing is edited, a correction is added beside it.',
    footer: (printedAt) => `Local policy and licensed clinicians decide. Musterbook records and relays. Printed ${printedAt}.`,
    rehearsal: 'Rehearsal: not a real record',
    states: {
      none: 'not tried',
      provisional: 'provisional',
      underReview: 'under review',
      final: 'final',
      notCounted: 'not counted',
      interrupted: 'interrupted',
    },
    notes: {
      oneLapInferred: 'one lap inferred',
      lapsInferred: 'laps inferred',
      twoReadings: 'two readings of one try',
      unusualKept: 'unusual value, asked and kept',
      fromPaper: 'transcribed from paper',
      corrected: 'corrected',
      countsByRuling: 'counts by a ruling',
    },
    methods: {
      hand: 'hand timed',
      electronic: 'electronically timed',
      scale: 'scale',
      barAndPlates: 'bar and plates',
      instrument: 'instrument',
    },
    footLine: (centimetres) => `foot-line at ${centimetres} cm`,
    outcomes: { good: 'good', foul: 'foul', noLift: 'no lift', noFaultRerun: 'run again, nobody’s fault', didNotFinish: 'did not finish' },
    corrections: {
      value: 'value corrected',
      void: 'made void',
      official: 'kind of try corrected',
      reassign: 'moved to or from another student',
    },
    officialTry: (n) => `Official try ${n}`,
    extra: 'extra, not counted',
    practice: 'Practice',
    folds: 'folds',
    fat: 'fat',
    load: 'load',
    finishAfter: (time, laps) => `finish after ${time}, ${laps} laps`,
    interrupted: {
      hold: 'interrupted by safety hold: not counted, no try used',
      medicalStop: 'ended by a medical stop: not counted, no try used',
      withdrawal: 'ended by the student’s own choice',
    },
    underReview: 'under review',
  },

  es: {
    notReviewed: 'Traducción todavía sin revisar por un hablante nativo.',
    decimalMark: ',',
    testDay: 'Día de pruebas',
    classAndBib: 'Clase, dorsal',
    noBib: 'sin dorsal',
    normGroup: 'Grupo de baremo',
    years: (years) => `${years} años en la fecha de la prueba`,
    bodyMass: 'Masa corporal',
    scale: 'báscula',
    afterEffort: 'tomada después de un esfuerzo',
    stateOfRecord: 'Estado del registro',
    sealed: 'El día está sellado.',
    open: 'El día está abierto: los resultados son provisionales.',
    results: 'Resultados',
    test: 'Prueba',
    result: 'Resultado',
    percentile: 'Percentil',
    state: 'Estado',
    basis: 'Base',
    group: 'grupo',
    placing: { met: (n) => n, below: (n) => `por debajo de ${n}`, orBetter: (n) => `${n} o mejor`, none: 'sin baremo' },
    version: 'versión',
    timing: 'cronometraje',
    inventedProtocol: 'protocolo inventado para este lugar',
    norms: 'Baremo',
    invented: 'inventado',
    noNorms: 'Sin baremo.',
    since: (date) => `Desde el ${date}`,
    then: 'Entonces',
    now: 'Ahora',
    difference: 'Diferencia',
    whatItSays: 'Qué indica',
    verdicts: {
      clearChange: 'más allá del error de medida',
      possibleChange: 'posible, cerca del error de medida',
      noClearChange: 'sin cambio claro más allá del error de medida',
      errorNotKnown: 'aquí no se conoce el error de medida de esta prueba',
      notDirectlyComparable: 'no comparable directamente',
    },
    directions: { better: 'mejor', worse: 'menos bueno', same: 'igual' },
    different: 'distinto',
    alike: 'medido de la misma manera',
    placeInDay: (first, later) => `distinto lugar en el día (${first}, después ${later})`,
    heatDiffers: (first, later) => `distinto calor: ${first}, después ${later}`,
    raterDiffers: 'lo midió otra persona que la primera vez',
    noReading: 'sin lectura',
    statement: 'Declaración del propio estudiante',
    working: 'Cómo se obtuvo cada puntuación',
    asAdopted: 'Las frases de reglas, protocolos y fuentes figuran tal como se adoptaron, en inglés.',
    tries: 'Intentos',
    orderAndRest: 'Orden y descanso',
    noneTried: 'No se intentó ninguna prueba.',
    thenNext: ', después ',
    retests: 'Repeticiones',
    until: 'hasta el',
    because: {
      hold: 'interrumpido por una suspensión',
      medicalStop: 'interrumpido por una parada médica',
      ruling: 'por una decisión',
      supervisor: 'concedida por supervisión',
    },
    train: 'Dónde entrenar primero',
    between: (from, to) => `entre el percentil ${from} y el ${to}`,
    notClearly: 'no claramente más bajo que los demás',
    errorNote:
      'Una diferencia menor que el error de medida de una prueba no es un cambio claro. Para cuestionar un valor, pregunte a coordinación: no se modifica nada, se añade al lado una corrección.',
    footer: (printedAt) =>
      `Deciden las normas locales y el personal sanitario titulado. Musterbook registra y transmite. Impreso: ${printedAt}.`,
    rehearsal: 'Ensayo: no es un registro real',
    states: {
      none: 'sin intentar',
      provisional: 'provisional',
      underReview: 'en revisión',
      final: 'definitivo',
      notCounted: 'no cuenta',
      interrupted: 'interrumpido',
    },
    notes: {
      oneLapInferred: 'una vuelta deducida',
      lapsInferred: 'vueltas deducidas',
      twoReadings: 'dos lecturas de un intento',
      unusualKept: 'valor inusual, preguntado y mantenido',
      fromPaper: 'pasado desde papel',
      corrected: 'corregido',
      countsByRuling: 'cuenta por una decisión',
    },
    methods: {
      hand: 'cronometrado a mano',
      electronic: 'cronometrado electrónicamente',
      scale: 'báscula',
      barAndPlates: 'barra y discos',
      instrument: 'instrumento',
    },
    footLine: (centimetres) => `línea de pies en ${String(centimetres).replace('.', ',')} cm`,
    outcomes: {
      good: 'válido',
      foul: 'falta',
      noLift: 'nulo',
      noFaultRerun: 'se repite, sin culpa de nadie',
      didNotFinish: 'sin terminar',
    },
    corrections: {
      value: 'valor corregido',
      void: 'anulado',
      official: 'tipo de intento corregido',
      reassign: 'pasado a otro estudiante o desde otro',
    },
    officialTry: (n) => `Intento oficial ${n}`,
    extra: 'adicional, no cuenta',
    practice: 'Práctica',
    folds: 'pliegues',
    fat: 'de grasa',
    load: 'carga',
    finishAfter: (time, laps) => `meta a los ${time}, ${laps} vueltas`,
    interrupted: {
      hold: 'interrumpido por suspensión de seguridad: no cuenta, sin gastar intento',
      medicalStop: 'terminado por una parada médica: no cuenta, sin gastar intento',
      withdrawal: 'terminado por decisión del propio estudiante',
    },
    underReview: 'en revisión',
  },

  ar: {
    notReviewed: 'ترجمة لم يراجعها متحدث أصلي بعد.',
    decimalMark: '.',
    testDay: 'يوم الاختبار',
    classAndBib: 'الصف، الرقم',
    noBib: 'بلا رقم',
    normGroup: 'مجموعة المعايير',
    years: (years) => `العمر في تاريخ الاختبار بالسنوات: ${years}`,
    bodyMass: 'كتلة الجسم',
    scale: 'الميزان',
    afterEffort: 'أُخذت بعد جهد',
    stateOfRecord: 'حالة السجل',
    sealed: 'اليوم مختوم.',
    open: 'اليوم مفتوح: النتائج مؤقتة.',
    results: 'النتائج',
    test: 'الاختبار',
    result: 'النتيجة',
    percentile: 'الرتبة المئينية',
    state: 'الحالة',
    basis: 'الأساس',
    group: 'المجموعة',
    placing: { met: (n) => n, below: (n) => `دون ${n}`, orBetter: (n) => `${n} أو أفضل`, none: 'لا معيار' },
    version: 'النسخة',
    timing: 'التوقيت',
    inventedProtocol: 'بروتوكول مُختلَق لهذا الموقع',
    norms: 'المعايير',
    invented: 'مختلَقة',
    noNorms: 'لا معايير.',
    since: (date) => `منذ ${date}`,
    then: 'حينها',
    now: 'الآن',
    difference: 'الفرق',
    whatItSays: 'ما الذي يدل عليه',
    verdicts: {
      clearChange: 'يتجاوز خطأ القياس',
      possibleChange: 'محتمل، قريب من خطأ القياس',
      noClearChange: 'لا تغيّر واضح يتجاوز خطأ القياس',
      errorNotKnown: 'خطأ القياس لهذا الاختبار غير معروف هنا',
      notDirectlyComparable: 'لا يُقارن مباشرة',
    },
    directions: { better: 'أفضل', worse: 'أقل جودة', same: 'نفسه' },
    different: 'مختلف',
    alike: 'قيس بالطريقة نفسها',
    placeInDay: (first, later) => `الترتيب في اليوم مختلف (${first}، ثم ${later})`,
    heatDiffers: (first, later) => `الحرارة مختلفة: \u2068${first}\u2069، ثم \u2068${later}\u2069`,
    raterDiffers: 'قاسه شخص آخر غير الذي قاسه في المرة الأولى',
    noReading: 'لا توجد قراءة',
    statement: 'بيان المتدرب نفسه',
    working: 'كيف حُسبت كل نتيجة',
    asAdopted: 'جمل القواعد والبروتوكولات والمصادر واردة كما اعتُمدت، بالإنجليزية.',
    tries: 'المحاولات',
    orderAndRest: 'الترتيب والراحة',
    noneTried: 'لم يُجرَّب أي اختبار.',
    thenNext: '، ثم ',
    retests: 'الإعادات',
    until: 'حتى',
    because: { hold: 'قاطعه تعليق', medicalStop: 'قاطعه إيقاف طبي', ruling: 'بقرار', supervisor: 'منحها المشرف' },
    train: 'أين يبدأ التدريب',
    between: (from, to) => `بين الرتبتين المئينيتين ${from} و${to}`,
    notClearly: 'ليس أدنى من غيره بوضوح',
    errorNote: 'الفرق الأصغر من خطأ القياس للاختبار ليس تغيّرًا واضحًا. للاعتراض على قيمة اسأل المنسق: لا يُعدَّل شيء، بل يُضاف تصحيح بجانبها.',
    footer: (printedAt) => `القرار للأنظمة المحلية وللأطباء المرخصين. Musterbook يسجّل وينقل. طُبع: ${printedAt}.`,
    rehearsal: 'تدريب تجريبي: ليس سجلًا حقيقيًا',
    states: {
      none: 'لم يُجرَّب',
      provisional: 'مؤقتة',
      underReview: 'قيد المراجعة',
      final: 'نهائية',
      notCounted: 'لا تُحتسب',
      interrupted: 'قوطعت',
    },
    notes: {
      oneLapInferred: 'لفة واحدة مستنتجة',
      lapsInferred: 'لفات مستنتجة',
      twoReadings: 'قراءتان لمحاولة واحدة',
      unusualKept: 'قيمة غير معتادة، سُئل عنها وأُبقيت',
      fromPaper: 'منقولة عن الورق',
      corrected: 'صُحّحت',
      countsByRuling: 'تُحتسب بقرار',
    },
    methods: {
      hand: 'توقيت باليد',
      electronic: 'توقيت إلكتروني',
      scale: 'ميزان',
      barAndPlates: 'بار وأقراص',
      instrument: 'جهاز',
    },
    footLine: (centimetres) => `خط القدمين عند \u2068${centimetres} cm\u2069`,
    outcomes: { good: 'صحيحة', foul: 'خطأ', noLift: 'لا رفعة', noFaultRerun: 'تُعاد بلا ذنب أحد', didNotFinish: 'لم يُنه' },
    corrections: {
      value: 'صُحّحت القيمة',
      void: 'أُلغيت',
      official: 'صُحّح نوع المحاولة',
      reassign: 'نُقلت إلى متدرب آخر أو منه',
    },
    officialTry: (n) => `المحاولة الرسمية ${n}`,
    extra: 'إضافية، لا تُحتسب',
    practice: 'تدريب',
    folds: 'الثنايا',
    fat: 'دهون',
    load: 'الحمل',
    finishAfter: (time, laps) => `النهاية بعد \u2068${time}\u2069، عدد اللفات ${laps}`,
    interrupted: {
      hold: 'قاطعها تعليق السلامة: لا تُحتسب ولم تُستعمل محاولة',
      medicalStop: 'أنهاها إيقاف طبي: لا تُحتسب ولم تُستعمل محاولة',
      withdrawal: 'أنهاها المتدرب باختياره',
    },
    underReview: 'قيد المراجعة',
  },
}

/** A value with the decimal mark of the sheet's language, apart from what stands around it. */
export const valueIn = (say: StudentWords, text: string): string => text.replace(/(\d)\.(?=\d)/g, `$1${say.decimalMark}`)

/** A percentile as the day labels it (`60th`, `below 10th`, `60th or better`, `no norm`), in the sheet's language. */
export function placingIn(say: StudentWords, label: string): string {
  if (say === studentWords.en) return label
  const parts = partsOfPlacing(label)
  return parts ? say.placing[parts.how](parts.percentile) : say.placing.none
}
