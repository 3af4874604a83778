// Not yet reviewed by a native speaker.
import type { FloorWords, RefusalWords, SiteRule } from '../en.ts'
import { line } from './line.ts'

type Params = Record<string, string | number>
type Says = RefusalWords['says']
const rule = (says: Says | string, next: Says | string, who: string): RefusalWords => ({
  says: typeof says === 'string' ? () => says : says,
  next: typeof next === 'string' ? () => next : next,
  who,
})
const put = (params: Params, name: string): string | number => params[name] ?? ''

const supervisor = 'المشرف'
const screener = 'الفاحص الطبي'
const safetyOfficer = 'مسؤول السلامة'
const stationStaff = 'طاقم المحطة'
const trackStaff = 'طاقم المضمار'
const greeter = 'الاستقبال'
const coordinator = 'المنسق'
const nobody = 'لا حاجة إلى أحد'
const asker = 'صاحب الطلب'

export const refusals = {
  alreadyOpen: rule('هذا اليوم مفتوح من قبل.', 'استعمل اليوم المفتوح.', nobody),
  notRehearsal: rule('ساعة هذا الخادم تسير بسرعة أخرى؛ لا يفتح إلا أيامًا تجريبية.', 'ليوم حقيقي شغّل الخادم بلا سرعة.', coordinator),
  sealed: rule('اليوم مختوم.', 'تُحفظ الوقائع المتأخرة بعد الختم؛ ويستطيع المشرف إعادة الفتح مع شخص ثانٍ.', supervisor),
  notSealed: rule('اليوم غير مختوم.', 'صحّحه في اليوم المفتوح.', supervisor),
  notOnRoster: rule('هذا المتدرب ليس في قائمة اليوم.', 'ابحث عن الرمز مرة أخرى، أو سجّله بلا موعد.', supervisor),
  alreadyOnRoster: rule('هذا المتدرب في قائمة اليوم من قبل.', 'سجّل حضوره.', greeter),
  noSuchStation: rule('لا توجد هذه المحطة اليوم.', 'اختر محطة من محطات هذا اليوم.', supervisor),
  notQualified: rule(
    (p) => line`${put(p, 'person')} غير مدرج مؤهلًا لمحطة ${put(p, 'station')}.`,
    'يستطيع المشرف القبول مع ذكر السبب.',
    supervisor,
  ),
  alreadyCheckedIn: rule('حضور هذا المتدرب مسجَّل من قبل.', 'تابع إلى المكتب الطبي.', greeter),
  notCheckedIn: rule('لم يُسجَّل حضور هذا المتدرب.', 'أرسله إلى الكشك.', greeter),
  withdrawn: rule('انسحب هذا المتدرب من اليوم.', 'لا شيء مطلوب هنا.', supervisor),
  bibTaken: rule((p) => line`الرقم ${put(p, 'bib')} يحمله متدرب آخر اليوم.`, 'اختر رقمًا آخر.', greeter),
  stopped: rule((p) => line`إيقاف طبي مسجَّل منذ ${put(p, 'since')}.`, 'أرسله إلى المكتب الطبي. لا يعيده إلا الفاحص.', screener),
  notCleared: rule(
    (p) =>
      p['clearance'] === 'pending' ? line`لا إذن طبي مسجَّل لرقم ${`#${put(p, 'bib')}`}.` : line`غير مأذون له بمحطة ${put(p, 'station')}.`,
    'أرسله إلى المكتب الطبي.',
    screener,
  ),
  observerNeeded: rule((p) => line`مأذون له بمحطة ${put(p, 'station')} مع مراقب فقط.`, 'سمِّ مراقبًا قبل البدء.', stationStaff),
  warmUpMissing: rule('الإحماء غير مؤكد.', 'أرسله إلى منطقة الإحماء؛ والطاقم هناك يؤكده.', 'طاقم الإحماء'),
  bodyMassMissing: rule('لا كتلة جسم مسجَّلة اليوم.', 'أرسله إلى مكتب الوزن.', 'مكتب الوزن'),
  coolDownDue: rule('لفة التهدئة والمعاينة مطلوبتان.', 'لا يبدأ شيء غيرهما حتى تُسجَّلا أو يُعفى منهما بسبب.', trackStaff),
  holdInForce: rule(
    (p) => line`تعليق سارٍ في ${put(p, 'zone')} منذ ${put(p, 'since')}.`,
    'أوقف البدء. انتظر حتى يرفعه مسؤول السلامة وشخص ثانٍ.',
    safetyOfficer,
  ),
  noReading: rule('لا قراءة صالحة للاستعمال مسجَّلة؛ حالة الحر غير معروفة.', 'تلزم قراءة جديدة قبل البدء في الخارج.', safetyOfficer),
  readingStale: rule((p) => line`عمر آخر قراءة بالدقائق: ${put(p, 'minutes')}.`, 'تلزم قراءة جديدة قبل البدء في الخارج.', safetyOfficer),
  siteUnread: rule(
    'ليس مؤكدًا أن كل قراءات الموقع وصلت؛ حالة التعليق غير معروفة.',
    'حاول بعد لحظة؛ وإن بقي الأمر فاتصل بمسؤول السلامة باللاسلكي.',
    safetyOfficer,
  ),
  outOfContact: rule(
    (p) => line`لا يمكن تأكيد حالة التعليق: بلا اتصال منذ ${`${put(p, 'minutes')} د`}.`,
    'اتصل بمسؤول السلامة باللاسلكي وسجّل من أجاب.',
    safetyOfficer,
  ),
  equipmentBlocked: rule((p) => line`${put(p, 'equipment')} لم تجتز آخر فحص.`, 'استعمل معدة أخرى، أو أجرِ فحصًا جديدًا ناجحًا.', stationStaff),
  notCalledUp: rule((p) => line`لم يُنادَ عليه إلى ${put(p, 'station')}.`, 'نادِ على المتدرب أولًا.', stationStaff),
  calledElsewhere: rule((p) => line`منادى عليه الآن إلى ${put(p, 'station')}.`, 'انتظر، أو أعد المتدرب إلى الطابور هناك.', stationStaff),
  otherUnderWay: rule(
    (p) => line`محاولة جارية في ${put(p, 'station')}.`,
    'انظر إلى الرقم والوجه. فإن كانا صحيحين فسجّل تلك المحاولة أو ألغِ بدءها أولًا.',
    stationStaff,
  ),
  triesUsed: rule(
    (p) => line`استُعملت ${put(p, 'used')} من ${put(p, 'tries')} محاولات.`,
    'لا يبدأ شيء آخر هنا؛ ويستطيع المشرف منح إعادة.',
    supervisor,
  ),
  restNotOver: rule(
    (p) => line`لم تنته راحة ${`${put(p, 'minutes')} د`}؛ بقي ${`${put(p, 'left')} ث`}.`,
    'انتظر، أو ابدأ مبكرًا مع ذكر السبب.',
    stationStaff,
  ),
  notBriefed: rule('لم يُشرح هذا الاختبار لهذا المتدرب.', 'اشرح الآن، أو ابدأ مع ذكر السبب.', stationStaff),
  loadMissing: rule('لا حمل محدَّد.', 'ضع الحمل على البار قبل الرفعة.', stationStaff),
  attemptExists: rule('هذه المحاولة موجودة من قبل.', 'افتحها.', nobody),
  noSuchAttempt: rule('لا توجد هذه المحاولة.', 'افتح سجل المتدرب مرة أخرى.', stationStaff),
  notReleasable: rule('في هذه المحاولة شيء مسجَّل.', 'سجّل نتيجتها؛ ويستطيع المشرف تصحيحها.', supervisor),
  notArun: rule('هذه المحطة ليست جريًا.', 'ابدأ المحاولات واحدة واحدة.', stationStaff),
  waveExists: rule('انطلقت هذه الدفعة من قبل.', 'افتحها.', nobody),
  noSuchWave: rule('لا توجد هذه الدفعة.', 'افتح شاشة المضمار مرة أخرى.', trackStaff),
  waveNeeded: rule('الجري ينطلق في دفعات.', 'ابدأ دفعة من شاشة المضمار.', trackStaff),
  runnerMayNotStart: rule(
    (p) => line`${`#${put(p, 'bib')}`}: ${put(p, 'why')}`,
    'أخرج هذا العدّاء من الدفعة، أو حُلّ الأمر أولًا.',
    trackStaff,
  ),
  notStopped: rule('لا إيقاف طبي سارٍ.', 'لا شيء لإعادته.', nobody),
  onlyScreener: rule('لا يعيده إلا الفاحص الطبي.', 'أرسله إلى المكتب الطبي.', screener),
  noSuchReferral: rule('لا توجد هذه الإحالة مفتوحة.', 'افتح القائمة مرة أخرى.', screener),
  noSuchHold: rule('لا يوجد هذا التعليق ساريًا.', 'افتح شاشة السلامة مرة أخرى.', safetyOfficer),
  onlySafetyOfficer: rule('لا يقترح الرفع إلا مسؤول السلامة.', 'اتصل بمسؤول السلامة باللاسلكي.', safetyOfficer),
  dispositionDue: rule((p) => line`متدربون جارون بلا مآل بعد: ${put(p, 'count')}.`, 'اختر أولًا ما يكون من الجارين.', safetyOfficer),
  readingOlderThanHold: rule('تلك القراءة أقدم من التعليق.', 'خذ قراءة جديدة مستقرة.', safetyOfficer),
  instrumentNotSettled: rule('لم يكن الجهاز قد استقر.', 'انتظر حتى يستقر واقرأ مرة أخرى.', safetyOfficer),
  notBelowLiftThreshold: rule(
    (p) => line`القراءة ليست دون القيمة التي حددتها ${put(p, 'policy')}.`,
    'انتظر واقرأ مرة أخرى.',
    safetyOfficer,
  ),
  dwellNotOver: rule((p) => line`أُخذت القراءة بعد التعليق بأقل من ${`${put(p, 'minutes')} د`}.`, 'اقرأ مرة أخرى لاحقًا.', safetyOfficer),
  estimateCannotLift: rule('التقدير لا يرفع تعليقًا.', 'اقرأ جهازًا.', safetyOfficer),
  readingUnusable: rule('لا يمكن استعمال تلك القراءة.', 'اقرأ مرة أخرى وأجب عن أسئلتها.', safetyOfficer),
  latchedForSession: rule('تُبقي السياسة تعليق الحر طوال الجلسة.', 'لا قراءة ترفعه اليوم.', safetyOfficer),
  readingInFuture: rule('تلك القراءة في المستقبل.', 'تحقق من ساعة الجهاز واقرأ مرة أخرى.', safetyOfficer),
  readingTooOld: rule('تلك القراءة قديمة جدًا.', 'خذ قراءة جديدة مستقرة.', safetyOfficer),
  derivedWetBulbCannotLift: rule(
    'بصيلة رطبة مستنتجة من الرطوبة لا ترفع تعليقًا بحسب هذه السياسة.',
    'اقرأ بصيلة رطبة طبيعية.',
    safetyOfficer,
  ),
  laterReadingNotBelow: rule('قراءة لاحقة ليست دون القيمة التي حددتها السياسة.', 'انتظر واقرأ مرة أخرى.', safetyOfficer),
  moreReadingsNeeded: rule('تطلب السياسة قراءات مستقرة متتالية أكثر.', 'اقرأ مرة أخرى.', safetyOfficer),
  readingMissing: rule('تعليق الحر يُرفع بناءً على قراءة.', 'خذ قراءة مستقرة.', safetyOfficer),
  lightningClock: rule(
    (p) => line`آخر رعد أو برق قبل ${`${put(p, 'ago')} د`}؛ والسياسة تنتظر ${`${put(p, 'minutes')} د`}.`,
    'انتظر؛ كل رعد أو برق يعيد العد من أوله.',
    safetyOfficer,
  ),
  observationMissing: rule('تلزم ملاحظة جديدة بعد التعليق.', 'سجّلها أولًا.', safetyOfficer),
  stillCallsForHold: rule('أحدث ملاحظة ما زالت تستدعي هذا التعليق.', 'انتظر ولاحظ من جديد.', safetyOfficer),
  figureMissing: rule('لم يحدد الموقع قيمة لهذا النوع من التعليق.', 'اكتب من قرر ذلك وعلى أي أساس، ثم اقترحه من جديد.', safetyOfficer),
  reasonMissing: rule('يلزم سبب.', 'اكتب السبب.', asker),
  liftNotProposed: rule('لم يُقترح رفع.', 'يقترحه مسؤول السلامة أولًا.', safetyOfficer),
  secondPersonSame: rule('يجب أن يكون الشخص الثاني غير الأول.', 'اطلب من مشرف آخر أو مسؤول سلامة آخر أن يؤكد.', supervisor),
  secondPersonMissing: rule('يجب أن يوافق شخص ثانٍ.', 'اطلب من شخص ثانٍ رمزه السري.', supervisor),
  noSuchReview: rule('لا توجد هذه المراجعة مفتوحة.', 'افتح الوارد مرة أخرى.', supervisor),
  ownReview: rule('أنت من سجّل ما هو قيد المراجعة.', 'يقرر مشرف آخر.', supervisor),
  changedSince: rule('تغيّر هذا منذ فتحته.', 'راجع النسخة الجديدة.', asker),
  kindFixed: rule('نوع المحاولة ثابت قبل بدئها.', 'بتصحيح من المشرف فقط.', supervisor),
  afterSignOff: rule('أُغلق يوم هذا المتدرب.', 'التصحيح من هنا للمشرف، بموافقة شخص ثانٍ.', supervisor),
  noRetestThere: rule((p) => line`حق الإعادة يشمل ${put(p, 'stations')} فقط.`, 'اطلب حقًا يشمل هذه المحطة.', supervisor),
  entitlementEnded: rule((p) => line`انتهى حق الإعادة في ${put(p, 'until')}.`, 'اطلب حقًا جديدًا.', supervisor),
  healthEventOpen: rule('حدث صحي مسجَّل.', 'يجب أن يأذن الفاحص قبل أن يبدأ شيء.', screener),
  coolDownNotDue: rule('لا تهدئة مطلوبة.', 'لا شيء للتسجيل.', nobody),
  notFinished: rule(
    (p) => line`متدربون لم يُعرف مآلهم، عددهم ${put(p, 'count')}: ${put(p, 'who')}.`,
    'سجّل كلًا منهم أو أعفه أو علّمه أولًا.',
    supervisor,
  ),
  holdsOpen: rule('ما زال تعليق مفتوحًا.', 'ارفعه أو سجّل مآله أولًا.', safetyOfficer),
  reviewsOpen: rule((p) => line`مراجعات مفتوحة: ${put(p, 'count')}.`, 'قرّر فيها، أو اختم مع ذكر السبب.', supervisor),
  notWithoutContact: rule('جهاز بلا اتصال لا يقرر هذا.', 'قرّره الآن، على اليوم كما هو، والجهاز على اتصال.', asker),
  unitNotOfStation: rule('تلك القيمة ليست بوحدة من وحدات هذه المحطة.', 'أدخلها بالوحدة التي تقرأ بها المحطة.', stationStaff),
  notOpenYet: rule('اليوم غير مفتوح.', 'افتحه أولًا.', coordinator),
} satisfies FloorWords['refusals']

export const siteRefusals = {
  wrongPin: rule('ليس هذا الرمز السري لهذا الشخص.', 'اكتبه مرة أخرى، أو اطلب رمزًا جديدًا من المنسق.', coordinator),
  tooManyTries: rule(
    (p) => line`رموز خاطئة كثيرة؛ المحاولة التالية بعد ${`${put(p, 'seconds')} ث`}.`,
    'انتظر، أو اطلب رمزًا جديدًا من المنسق.',
    coordinator,
  ),
  noPin: rule('ليس لهذا الشخص رمز سري بعد.', 'يضع المنسق رمزه الأول.', coordinator),
  badgeUnknown: rule(
    'لا توجد بطاقة في هذا الموقع تحمل هذا الرمز.',
    'اختر الاسم من القائمة. المنسق يصنع البطاقات في المكتب، في صفحة الأشخاص.',
    coordinator,
  ),
  badgeTakenBack: rule('سُحبت هذه البطاقة.', 'اختر الاسم من القائمة، وسلّم البطاقة إلى المنسق.', coordinator),
  badgeNotToday: rule(
    'صاحب هذه البطاقة ليس من موظفي اليوم.',
    'سلّمها إلى المنسق. من يعمل هنا اليوم يُضاف في المكتب ويحصل على بطاقة خاصة به.',
    coordinator,
  ),
  personLeft: rule('لم يعد هذا الشخص يعمل هنا.', 'أضفه من جديد.', coordinator),
  tryAgain: rule('سبقك شخص آخر.', 'حاول مرة أخرى.', nobody),
  codeNotKnown: rule('رمز تسجيل الجهاز هذا غير معروف.', 'اقرأه مرة أخرى، أو اطلب رمزًا جديدًا.', supervisor),
  codeUsed: rule('رمز تسجيل الجهاز هذا استُعمل من قبل.', 'اطلب رمزًا جديدًا: كل رمز لجهاز واحد.', supervisor),
  codeExpired: rule('رمز تسجيل الجهاز هذا قديم جدًا.', 'اطلب رمزًا جديدًا.', supervisor),
  deviceRevoked: rule('لم يعد هذا الجهاز مسجَّلًا.', 'سجّله برمز جديد.', supervisor),
  codeTaken: rule((p) => line`الرمز ${put(p, 'code')} لمتدرب آخر.`, 'اختر رمزًا آخر.', coordinator),
  noMatch: rule('الرمز وتاريخ الميلاد لا يتطابقان هنا.', 'اكتبهما مرة أخرى، أو اسأل الاستقبال.', greeter),
  lookUpWait: rule((p) => line`محاولات كثيرة هنا؛ التالية بعد ${`${put(p, 'seconds')} ث`}.`, 'اسأل الاستقبال.', greeter),
  impossibleBirthDate: rule((p) => line`لا يمكن أن يكون ${put(p, 'birthDate')} تاريخ ميلاد متدرب.`, 'صحّح تاريخ الميلاد.', coordinator),
  answersDoNotFit: rule('الإجابات لا توافق الأسئلة.', 'أجب مرة أخرى.', greeter),
} satisfies Record<SiteRule, RefusalWords>
