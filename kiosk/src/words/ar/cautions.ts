// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'
import { figure } from '../figures.ts'

export const cautions = {
  title: 'عن هذا الجهاز',
  battery: (percent: number, minutes: number | null) =>
    `البطارية ${figure(percent)} ٪${minutes === null ? '' : `، يبقى نحو ${figure(minutes)} دقيقة`}. اشحن الجهاز أو بدله الآن.`,
  storage: 'مساحة هذا الجهاز تكاد تمتلئ. قربه من نقطة الاتصال ليرسل ما يحفظه، أو بدله.',
  newVersion: 'نسخة جديدة من هذه الشاشة تنتظر. تحل محلها حين لا يكون أحد مسجلا هنا ولا شيء جاريا؛ وما هو محفوظ هنا يبقى.',
  clocks: (seconds: number) =>
    `ساعتا هذا الجهاز تختلفان بمقدار ${figure(seconds)} ثانية. الأوقات المأخوذة هنا تنتظر المشرف؛ سجلها أيضا بساعة يدوية.`,
} satisfies FloorWords['cautions']
