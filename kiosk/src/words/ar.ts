// Not yet reviewed by a native speaker. The language choice says so on the screen.
import type { FloorWords } from './en.ts'
import { count } from './figures.ts'
import { board } from './ar/board.ts'
import { briefing } from './ar/briefing.ts'
import { carried } from './ar/carried.ts'
import { checkIn } from './ar/check-in.ts'
import { floor } from './ar/floor.ts'
import { cautions } from './ar/cautions.ts'
import { paper } from './ar/paper.ts'
import { radio } from './ar/radio.ts'
import { weighIn } from './ar/weigh-in.ts'
import { line } from './ar/line.ts'
import { run } from './ar/run.ts'
import { safety } from './ar/safety.ts'
import { station } from './ar/station.ts'
import { readingChecks } from './ar/reading-checks.ts'
import { refusals, siteRefusals } from './ar/refusals.ts'

/** What the floor says in Arabic, from right to left, with Western digits as on the site's own instruments. */
export const ar = {
  product: 'Musterbook',
  refusals,
  siteRefusals,

  common: {
    cancel: 'إلغاء',
    close: 'إغلاق',
    back: 'رجوع',
    continue: 'متابعة',
    confirm: 'تأكيد',
    save: 'حفظ',
    undo: 'تراجع',
    yes: 'نعم',
    no: 'لا',
    unknown: 'غير معروف',
    none: 'لا شيء',
    optional: 'اختياري',
    by: (person: string) => line`بواسطة ${person}`,
    ago: (age: string) => line`قبل ${age}`,
    since: (clock: string, age: string) => line`منذ ${clock}، قبل ${age}`,
    bib: (bib: string) => line`${`#${bib}`}`,
  },

  caution: {
    defers: 'القرار للأنظمة المحلية وللأطباء المرخصين. هذه الأداة تسجّل وتنقل فقط. في الطوارئ تصرّف أولًا وسجّل لاحقًا.',
    quiet: 'عدم وجود تعليق سارٍ لا ينفي احتمال الإصابة بسبب الحر.',
  },

  shell: {
    reaching: 'جارٍ الاتصال بالموقع',
    reachingHelp: 'إن بقي هذا، فتحقق من شبكة الواي فاي. وحتى ذلك الحين أوقِف وعلِّق بالصوت والصفارة واللاسلكي.',
    sending: (what: string) => line`جارٍ الإرسال: ${what}`,
    stopped: 'أُوقف متدرب',
    stopTold: (who: string, clock: string) => line`أُوقف ${who} هنا في ${clock}. بطاقة الموقع نفسه:`,
    cardNotHere: 'تعذر فتح بطاقة الطوارئ هنا.',
    cardNotHereNext: 'اتصل برقم الطوارئ المحلي وبمسؤول السلامة.',
    holdRaised: 'صدر تعليق',
    byPolicy: 'سياسة الحر',
    notYours: (screen: string) => line`${screen} ليست من مهامك هنا`,
    notYoursHelp: 'يسجّل الدخول من له الدور المناسب، أو يغيّر المشرف التكليف.',
    someoneElse: 'تسجيل الدخول باسم شخص آخر',
    noDay: 'لا يوجد يوم مفتوح',
    noDayHelp: 'يفتح المنسق اليوم من شاشة المكتب، وتتبعه هذه الشاشة تلقائيًا.',
    troubled: (n: number) =>
      count(n, {
        zero: 'لا يوجد عنصر تعذّرت قراءته.',
        one: 'عنصر واحد (#) تعذّر على الموقع قراءته. هو محفوظ كاملًا هناك وهنا: اتصل بالمشرف.',
        two: 'عنصران (#) تعذّر على الموقع قراءتهما. هما محفوظان كاملين هناك وهنا: اتصل بالمشرف.',
        few: '# عناصر تعذّر على الموقع قراءتها. هي محفوظة كاملة هناك وهنا: اتصل بالمشرف.',
        many: '# عنصرًا تعذّر على الموقع قراءتها. هي محفوظة كاملة هناك وهنا: اتصل بالمشرف.',
        other: '# عنصر تعذّر على الموقع قراءتها. هي محفوظة كاملة هناك وهنا: اتصل بالمشرف.',
      }),
    carry: (n: number) => line`نقل ما هو محفوظ هنا (${n}) بملف أو برمز`,
    lockedLost: (by: string, clock: string) => line`قفل ${by} هذا الجهاز في ${clock}. سلّمه إلى المشرف.`,
    lockedSending: (n: number) => line`ما زال يُرسَل إلى الموقع مما كان محفوظًا فيه: ${n}. اتركه مشغَّلًا وفي مدى الشبكة.`,
    lockedEmpty: 'لم يعد يحفظ شيئًا. يمكن للمشرف فتحه.',
    keepsNothing: 'هذا المتصفح لا يحفظ شيئًا (نافذة خاصة أو قرص ممتلئ). لا تُدر محطة عليه.',
    notKeptTitle: (what: string) => line`لم يُحفظ: ${what}`,
    notKept: 'لم يستطع هذا الجهاز حفظ شيء، ولم يُسمع الموقع.',
    notKeptNext: 'اكتبه على الورق مع وقته، وتابع على جهاز آخر. أما الإيقاف أو التعليق فبالصوت والصافرة واللاسلكي.',
    saveAgain: 'احفظ مرة أخرى',
    notReached: 'تعذّر الوصول إلى الموقع. لم يبدأ شيء.',
    locked: 'أُقفلت هذه الشاشة.',
    notUnderstood: 'لم يستطع الموقع قبول هذا.',
    tryAgain: 'حاول مرة أخرى. وإن بقي الأمر، فأبلغ المشرف باللاسلكي.',
    anyone: 'من يقف هنا',
    nobodyWears: (bib: string) => line`لا أحد يحمل ${bib} اليوم.`,
    nobodyWearsNext: 'قد يكون من يوم آخر، أو أُعيد إصداره بعد ذلك. اقرأه مرة أخرى، أو ابحث عن المتدرب بالاسم.',
    readBib: 'قراءة رقم بالكاميرا',
    holdBib: 'ضع رمز الرقم أمام الكاميرا',
    readBadge: 'قراءة بطاقة',
    holdBadge: 'ضع رمز البطاقة أمام الكاميرا',
    badgeNumber: 'أو اكتب الرقم الذي عليها',
    badgeNotHere: (badge: string) => line`لم يسجل صاحب البطاقة ${badge} الدخول على هذا الجهاز اللوحي مؤخرًا.`,
    closeCamera: 'إغلاق الكاميرا',
    noCamera: 'لم تُفتح أي كاميرا هنا.',
    noCameraNext: 'استعمل قارئًا يدويًا، أو اختر المتدرب من القائمة.',
    noSuchBib: 'لا أحد يحمل هذا الرقم اليوم.',
    noSuchBibNext: 'انظر إلى الرقم مرة أخرى، أو أوقف المتدرب بالصوت وأخبر المشرف.',
    unsentFirst: (n: number) =>
      count(n, {
        zero: 'لا شيء محفوظ على هذا الجهاز وحده.',
        one: 'شيء واحد (#) محفوظ على هذا الجهاز وحده ولم يدخل السجل بعد.',
        two: 'شيئان (#) محفوظان على هذا الجهاز وحده ولم يدخلا السجل بعد.',
        few: '# أشياء محفوظة على هذا الجهاز وحده ولم تدخل السجل بعد.',
        many: '# شيئًا محفوظة على هذا الجهاز وحده ولم تدخل السجل بعد.',
        other: '# شيء محفوظة على هذا الجهاز وحده ولم تدخل السجل بعد.',
      }),
    unsentNext: 'قرّب الجهاز من مدى الشبكة وانتظر حتى لا يبقى شيء غير مرسل، ثم سجّل الخروج.',
    refusedLater: (what: string) => line`عند الإبلاغ رفض اليوم ما تقرّر هنا: ${what}`,
    pinDue: (name: string) =>
      line`${name}: الموقع يطلب رقمك السري. ما يحدث في هذه الأثناء يُحفظ ويُبلَّغ باسمك؛ أما البدء والقرارات فتنتظر الرقم السري.`,
    pinGive: 'أدخل الرقم السري',
    aloneStrip: 'لا اتصال: يتقرر البدء هنا ويُحفظ ما يحدث. لا يُرفع شيء ولا يُعاد ولا يُجاز ولا يُفصل فيه.',
    needsSite: (screen: string) => line`${screen} تحتاج إلى الخادم`,
    needsSiteHelp: 'لا يمكن الوصول إليه. ما كُتب هنا يبقى، وتستمر الشاشة وحدها حين يُسمع الخادم. استخدم اللاسلكي في هذه الأثناء.',
    noStation: 'لا تعمل أي محطة على هذا الجهاز',
    noStationHelp:
      'لا يحفظ متصفحه شيئًا مما يُسجَّل هنا (نافذة خاصة أو قرص ممتلئ). خذ جهازًا آخر، أو أفرغ مساحة وسجّل الدخول من جديد. الإيقاف والتعليق ما زالا يعملان.',
    mayBeCleared: 'لم يتعهد هذا المتصفح بحفظ ما يُسجَّل دون اتصال. ثبّت التطبيق على هذا الجهاز، أو ابقَ ضمن المدى.',
    signOnAloneTitle: 'من يعمل هنا دون اتصال؟',
    signOnAlone: (hours: number) =>
      line`لا يمكن التحقق من أي رقم سري الآن. لا يظهر إلا من سجّل الدخول هنا خلال آخر ${hours} ساعة، ويُسجَّل أن الدخول تم دون اتصال.`,
    forgotten: 'انتهت ساعات اليوم: محا هذا الجهاز ما كان يعرفه عنه',
    forgottenHelp: (kept) =>
      line`${kept === 0 ? 'لا شيء ينتظر الإرسال.' : line`لم يُرسل بعد: ${kept}، وما زال محفوظًا هنا.`} خذه إلى حيث يجيب الموقع: يُرسل المحفوظ ويعود اليوم برقمك السري. حتى ذلك الحين استعمل اللاسلكي والبوق وجهازًا آخر.`,
    signOnAloneNobody: 'لم يسجّل أحد الدخول على هذا الجهاز مؤخرًا',
    signOnAloneNobodyHelp: 'خذ جهازًا متصلًا، أو جهازًا سجّلت الدخول عليه اليوم. الإيقاف والتعليق يعملان هنا بلا اسم.',
    signedOnAlone: 'دخول دون اتصال',
    enrolTitle: 'هذا الجهاز غير مسجَّل',
    enrolHelp: line`يُنشئ المشرف أو المنسق رمزًا على شاشته: ${'Devices, Add a device'}.`,
    enrolCode: 'رمز تسجيل الجهاز',
    enrol: 'تسجيل هذا الجهاز',
    setUpFirst: 'لم يُعدّ أحد هذا الخادم بعد. افتح صفحة الإعداد.',
    setUpLink: 'الإعداد',
    signOnTitle: 'من يعمل هنا؟',
    signOnHelp: 'اختر اسمك ثم أدخل رمزك السري. تسجيل الدخول يحل محل من كان هنا.',
    pin: 'الرمز السري',
    signOn: 'تسجيل الدخول',
    otherName: 'اسم آخر',
    findName: 'البحث عن اسم',
    firstPin: 'هذا الرمز وُضع لك، فشخص آخر يعرفه. اختر رمزك قبل أي شيء.',
  },

  ownPin: {
    title: 'تغيير رمزي السري',
    help: 'لا يعرفه أحد غيرك. من أربعة إلى اثني عشر رقمًا، غير متتالية وغير متماثلة كلها.',
    old: 'الرمز الحالي',
    new: 'الرمز الجديد',
    again: 'الرمز الجديد مرة أخرى',
    differ: 'الرمزان الجديدان مختلفان.',
    save: 'تغيير',
    changed: 'تغيّر الرمز السري',
    wrong: 'من أربعة إلى اثني عشر رقمًا.',
  },

  language: {
    label: 'لغة هذه الشاشة',
    notHad: (name: string) => line`${name}: ليست على هذا الجهاز بعد، ويلزم الاتصال بالموقع.`,
  },

  frame: {
    status: 'هذا الجهاز اللوحي',
    signedOn: (person: string) => line`المستخدم: ${person}`,
    notSignedOn: 'لم يسجّل أحد الدخول',
    signOn: 'تسجيل الدخول',
    signOff: 'تسجيل الخروج',
    contact: (age: string) => line`آخر اتصال بالموقع قبل ${age}`,
    contactNever: 'الاتصال غير معروف',
    contactStale: (age: string) => line`بلا اتصال منذ ${age}`,
    unsent: (n: number) => (n === 0 ? 'لا شيء غير مرسل' : line`غير مرسل: ${n}`),
    clock: 'الوقت في الموقع',
    stopStudent: 'إيقاف متدرب',
    raiseHold: 'إصدار تعليق',
    callStaff: 'نداء الطاقم',
    card: 'بطاقة الطوارئ',
    themeIndoor: 'داخلي',
    themeOutdoor: 'خارجي',
    rehearsal: 'تدريب تجريبي: لا شيء هنا يدخل سجلًا حقيقيًا',
    speed: (times: string) => line`الساعة أسرع بمقدار ${times} مرة`,
    noHold: 'لا تعليق سارٍ',
  },

  states: {
    met: 'مستوفى',
    notMet: 'غير مستوفى',
    unknown: 'غير معروف',
    waiting: 'في الانتظار',
    called: 'نودي عليه',
    underWay: 'جارٍ',
    done: 'تم',
    hold: 'تعليق سارٍ',
    stopped: 'موقوف',
    cleared: 'مأذون له طبيًا',
    limited: 'مأذون له بحدود',
    pending: 'معلّق القرار',
    notToday: 'ليس اليوم',
    withdrawn: 'مسحوب',
    review: 'قيد المراجعة',
    blocked: 'محظور',
  },

  stopStudent: {
    title: 'أي متدرب يُوقَف؟',
    help: 'لا يبدأ شيئًا حتى يعيده الفاحص الطبي. لفّاته ومحاولاته حتى الآن محفوظة.',
    underWayHere: 'الجارون هنا',
    others: 'كل من سواهم ممن يحملون رقمًا',
    bib: 'رقم آخر',
    stop: (bib: string) => line`إيقاف ${bib}`,
    stopBib: 'إيقاف',
  },

  evidence: {
    take: 'صورة',
    noFace: 'للشاشة أو البار، بلا وجوه',
    again: 'صورة أخرى',
    taken: 'ترافق هذه النتيجة',
    show: 'الصورة',
    alt: 'صورة الشاشة أو البار عند القراءة',
    notHere: 'هذه الصورة ليست في السجل بعد. ربما ما زالت على الجهاز الذي التقطها.',
    notIt: 'هذه ليست الصورة التي سُجّلت: بياناتها تعطي بصمة أخرى.',
    digest: (digest: string) => line`محفوظة في السجل ببصمتها: ${digest}`,
    unsent: (n: number) => line`صور على هذا الجهاز وحده: ${n}`,
    broken: 'تعذّرت قراءة تلك الصورة',
    brokenNext: 'التقطها مرة أخرى. تُحفظ القيمة بها أو بدونها.',
  },

  raiseHold: {
    title: 'إصدار تعليق',
    help: 'يُطلب من كل من هو جارٍ في المنطقة أن يتوقف. ورفع التعليق يتطلب مسؤول السلامة وشخصًا ثانيًا.',
    zone: 'المنطقة',
    raise: (kind: string, zone: string) => line`${kind} ${zone}: إصدار تعليق`,
    wholeSite: 'كل المناطق الخارجية',
    kinds: { heat: 'حر', lightning: 'برق', cold: 'برد', air: 'هواء', other: 'غير ذلك' },
  },

  sound: {
    off: 'الصوت مغلق على هذا الجهاز. المس لتجربته.',
    none: 'هذا المتصفح بلا صوت. راقب الشاشة واستمع إلى اللاسلكي.',
    silent: 'الصوت مغلق على هذا الجهاز: هذا يُرى ولا يُسمع. المس لتشغيله وأخبر الناس بصوتك.',
  },

  hold: {
    title: 'قف',
    zone: (zone: string) => line`تعليق سارٍ: ${zone}`,
    reason: (reason: string) => line`السبب: ${reason}`,
    raised: (clock: string, person: string) => line`أصدره ${person} الساعة ${clock}`,
    underWay: (n: number) => line`الجارون عند إصداره: ${n}`,
    acknowledge: 'سمعتُه',
    heardHere: 'سُمع التعليق هنا',
    orderUnknown: 'لا يمكن الجزم أيهما أسبق، التعليق أم البدء. التعليق هو الساري.',
  },

  gates: {
    title: 'قبل البدء',
    allMet: 'كل الشروط مستوفاة',
    open: (notMet: number, unknown: number) =>
      [
        notMet > 0
          ? count(notMet, {
              one: 'شرط واحد (#) غير مستوفى',
              two: 'شرطان (#) غير مستوفيين',
              few: '# شروط غير مستوفاة',
              other: '# شرطًا غير مستوفى',
            })
          : '',
        unknown > 0
          ? count(unknown, {
              one: 'شرط واحد (#) غير معروف',
              two: 'شرطان (#) غير معروفين',
              few: '# شروط غير معروفة',
              other: '# شرطًا غير معروف',
            })
          : '',
      ]
        .filter(Boolean)
        .join('، '),
    resolver: (who: string) => line`من يحله: ${who}`,
  },

  queue: {
    title: 'المأذون لهم المنتظرون',
    waiting: (n: number) => (n === 0 ? 'لا أحد ينتظر' : line`في الانتظار: ${n}`),
    callUp: 'نداء',
    callUpNamed: (name: string, bib: string) => line`نداء ${name}، ${bib}`,
    emptyHelp: 'يظهر المتدربون هنا بعد الإذن الطبي والإحماء.',
  },

  student: {
    lookAlike: 'اسم مشابه اليوم',
    bib: 'الرقم',
    face: (name: string) => line`صورة ${name}`,
  },

  numberPad: {
    clear: 'مسح الكل',
    remove: 'حذف الأخير',
    minus: 'ناقص',
    decimal: 'الفاصلة العشرية',
    empty: 'لا قيمة بعد',
    ask: 'هل هذا ما قرأته؟',
    keep: (value: string) => line`إبقاء ${value}`,
    retype: 'إدخالها من جديد',
  },

  stopwatch: {
    label: 'ساعة الإيقاف',
    start: 'بدء',
    stop: 'توقف',
    split: 'زمن جزئي',
    splits: 'الأزمنة الجزئية',
    running: 'تعمل',
    stopped: 'توقفت الساعة',
    ready: 'جاهزة',
  },

  laps: {
    toGo: (n: number) =>
      n === 0
        ? 'أنهى'
        : count(n, { one: 'بقيت لفة واحدة (#)', two: 'بقيت لفتان (#)', few: 'بقيت # لفات', many: 'بقيت # لفة', other: 'بقيت # لفة' }),
    expected: (duration: string) => line`متوقع بعد ${duration}`,
    overdue: (duration: string) => line`كان متوقعًا قبل ${duration}`,
    crossed: 'يعبر الخط،',
    takeBack: 'لمسات يمكن التراجع عنها',
    undo: (bib: string, seconds: number) => line`تراجع ${bib}: ${`${seconds}\u00a0ث`}`,
    possibleMiss: 'احتمال عبور لم يُسجَّل',
    finishedGroup: 'أنهوا',
    runners: 'العدّاؤون حسب العبور التالي',
  },

  load: {
    title: 'الحمل على البار',
    less: (step: string) => line`أقل بمقدار ${step}`,
    more: (step: string) => line`أكثر بمقدار ${step}`,
    efforts: (used: number, of: number) => line`الرفعة ${Math.min(used + 1, of)} من ${of}`,
    left: (n: number) => (n === 0 ? 'لم تبق رفعات' : line`الرفعات الباقية: ${n}`),
    good: 'رفعة صحيحة',
    noLift: 'لا رفعة',
    history: 'الرفعات حتى الآن',
    set: (load: string) => line`${load} على البار: ابدأ`,
    outcome: 'كيف كانت؟',
  },

  skinfolds: {
    title: 'مواضع ثنايا الجلد',
    reading: (n: number) => line`القراءة ${n}`,
    missing: 'لم تُقرأ بعد',
    third: 'تختلف القراءتان أكثر مما يسمح به البروتوكول: تلزم قراءة ثالثة.',
    next: 'التالي',
    unit: 'mm',
  },

  refusal: {
    title: 'لم يبدأ',
    rule: 'القاعدة',
    resolver: 'من يستطيع حله',
    next: 'الخطوة التالية',
    kept: 'هذا الرفض محفوظ في السجل.',
    keptHere: 'قاله هذا الجهاز دون اتصال. محفوظ هنا ويُبلَّغ لاحقًا.',
    fallback: {
      says: 'اليوم لا يسمح بهذا الآن.',
      who: 'المشرف',
      next: 'اسأل المشرف واذكر القاعدة.',
    },
  },

  said: {
    kept: 'محفوظ على هذا الجهاز',
    keptHelp: 'يُرسل عند عودة الاتصال بالموقع.',
    recorded: 'في السجل',
    at: (clock: string) => line`الساعة ${clock}`,
    number: (n: number) => line`القيد ${n}`,
    review: 'ينتظر المشرف',
  },

  reading: {
    line: (age: string, place: string, instrument: string) => line`قُرئت قبل ${age}، ${place}، ${instrument}`,
    by: (person: string) => line`بواسطة ${person}`,
    stale: (limit: string) => line`أقدم من ${limit}: تُعدّ غير معروفة`,
    notSettled: 'غير مستقر',
    none: 'لا قراءة',
  },

  acknowledgements: {
    title: 'من سمعه',
    heard: 'سُمع',
    notHeard: 'لم يُسمع',
    unreachable: 'بلا اتصال',
    tally: (heard: number, of: number) => line`سمعه ${heard} من ${of}`,
    after: (duration: string) => line`بعد ${duration}`,
  },

  timeline: {
    by: (person: string, device: string) => line`${person}، ${device}`,
    late: (duration: string) => line`سُجّل بعد ذلك بمدة ${duration}`,
    empty: 'لم يُسجَّل شيء بعد',
  },

  steps: {
    first: 'الأول',
    previous: 'خطوة إلى الوراء',
    next: 'خطوة إلى الأمام',
    last: 'الأخير',
    position: (n: number, of: number) => line`القيد ${n} من ${of}`,
    slider: 'اللحظة من اليوم',
  },

  table: {
    empty: 'لا شيء للعرض',
  },

  chart: {
    table: 'الشيء نفسه في جدول',
    time: 'الوقت',
    value: 'القيمة',
  },

  percentile: {
    within: (group: string, table: string) => line`الرتبة المئينية ضمن المجموعة ${group}، الجدول ${table}`,
    value: (n: number) => line`${n} من ${100}`,
    none: 'لا رتبة مئينية',
  },

  qr: {
    code: (text: string) => line`الرمز: ${text}`,
  },

  files: {
    choose: 'اختيار ملف',
    drop: 'أو إسقاطه هنا',
    chosen: (name: string, size: string) => line`${name}، ${size}`,
    wrongKind: (kinds: string) => line`يُقبل هنا ${kinds}.`,
    tooLarge: (limit: string) => line`أكبر من ${limit}.`,
  },

  progress: {
    of: (n: number, of: number) => line`${n} من ${of}`,
    working: 'جارٍ العمل',
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
    noContact: 'تعذّر الوصول إلى الموقع. لم يضع شيء: حاول مرة أخرى أو استعمل اللاسلكي.',
    notSignedOn: 'سجّل الدخول أولًا.',
    notYours: 'دورك لا يشمل هذا.',
    notUnderstood: 'لم يفهم الموقع هذا.',
    changedSince: 'تغيّر منذ فتحته؛ راجع النسخة الجديدة.',
    broken: 'تعطّل شيء في الموقع. وقد دُوّن هناك.',
  },
} satisfies FloorWords
