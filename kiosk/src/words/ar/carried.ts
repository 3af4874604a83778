// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'
import { figure } from '../figures.ts'
import { line } from './line.ts'

export const carried = {
  title: 'منقول باليد',
  giveOut: 'من هذا الجهاز',
  waiting: (n: number, device: string) => line`محفوظ على ${device} وليس في السجل: ${n}.`,
  nothing: (device: string) => line`لا شيء لينقل: لا شيء ينتظر على ${device}.`,
  giveOutHelp: 'لجهاز لن يصل إلى الموقع اليوم مرة أخرى. يبقى كل شيء هنا أيضًا؛ وما يصل مرتين يُحسب مرة. الصور لا تُنقل.',
  file: 'حفظ في ملف',
  codes: 'عرض رموزًا',
  codeOf: (n: number, of: number) => line`الرمز ${figure(n)} من ${figure(of)}`,
  before: 'السابق',
  next: 'الرمز التالي',
  bringIn: 'إدخال من جهاز آخر',
  bringInHelp: 'لا يُرسل شيء قبل أن ترى ما فيه. يحتفظ كل فعل بوقته وبصاحبه؛ ويُذكر اسمك بصفتك من نقله.',
  chooseFile: 'ملف الجهاز الآخر',
  readCodes: 'قراءة رموزه بالكاميرا',
  camera: 'ضع رمز الجهاز الآخر أمام الكاميرا',
  noCamera: 'لم تُفتح كاميرا هنا. استعمل الملف.',
  seen: (n: number, of: number, missing: string) => line`قُرئ ${figure(n)} من ${figure(of)} رموز. بقي: ${missing}`,
  notOne: 'ليس هذا ملف جهاز كاملًا دون تغيير.',
  again: 'احفظه من جديد على الجهاز، أو اقرأ رموزه مرة أخرى.',
  holds: (n: number, device: string) => line`فيه أفعال من ${device}: ${n}`,
  nobody: 'لم يسجل أحد الدخول',
  item: (act: string, about: string | null, clock: string | null, by: string) =>
    [act, about, clock, by].flatMap((one) => (one === null ? [] : [line`${one}`])).join(' · '),
  send: (n: number) => line`إرسال الأفعال إلى السجل: ${n}`,
  became: {
    recorded: 'في السجل',
    knownAlready: 'كان في السجل من قبل',
    refused: 'مرفوض، والرفض محفوظ',
    kept: 'محفوظ كاملًا للمشرف',
  },
} satisfies FloorWords['carried']
