// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'
import { line } from './line.ts'

export const readingChecks = {
  valueMissing: 'تنقص قيمة تحتاجها الصيغة.',
  dryBulbOutsideSensor: line`البصيلة الجافة خارج ${'−5 … 50 °C (23 … 122 °F)'}.`,
  wetBulbOutsideSensor: line`البصيلة الرطبة خارج ${'−5 … 50 °C (23 … 122 °F)'}.`,
  globeOutsideSensor: line`الكرة خارج ${'−5 … 100 °C (23 … 212 °F)'}.`,
  wbgtOutsideSensor: line`قيمة ${'WBGT'} خارج ما يمكن أن تعطيه هذه المجسات.`,
  psychrometricWetBulbAboveDryBulb: 'لا يمكن أن تكون البصيلة الرطبة المهوّاة أعلى من الجافة.',
  humidityOutsideRange: line`الرطوبة خارج ${'0 … 100 %'}.`,
  dewPointAboveDryBulb: 'لا يمكن أن تكون نقطة الندى أعلى من البصيلة الجافة.',
  looksLikeTheOtherUnit: 'هذه الأرقام لا تبدو صحيحة إلا بالوحدة الأخرى. أي وحدة يعرضها الجهاز؟',
  wetBulbAboveDryBulb: 'البصيلة الرطبة أعلى من الجافة. هل الفتيل مبلل وكل قيمة في حقلها؟',
  wickLooksDry: 'البصيلة الرطبة تساوي الجافة. هل الفتيل مبلل؟',
  drierThanAirGets: 'البصيلة الرطبة أقل مما يعطيه هواء جاف جدًا. اقرأها مرة أخرى.',
  globeBelowDryBulb: 'الكرة أقل من البصيلة الجافة. هل هي في الظل؟',
  globeNearDryBulbInSun: 'الكرة لا تكاد تزيد على البصيلة الجافة. هل عليها شمس فعلًا؟',
  globeFarAboveDryBulbWithoutSun: 'الكرة أعلى بكثير من البصيلة الجافة. هل لا شمس عليها فعلًا؟',
  globeVeryFarAboveDryBulb: line`الكرة أعلى من البصيلة الجافة بأكثر من ${'30 °C'}. اقرأها مرة أخرى.`,
  jumpedSinceLastReading: 'تغيّرت كثيرًا منذ القراءة الأخيرة هنا. اقرأها مرة أخرى.',
  notSettled: 'لم يمض على الجهاز وقت كافٍ ليستقر.',
  globeIsNot150mm: line`الكرة ليست بقطر ${'150 mm'}: الكرة الصغيرة تقرأ أقل في الشمس والريح.`,
  psychrometricInSunIsAnEstimate: 'البصيلة الرطبة المهوّاة في الشمس تعطي تقديرًا يميل إلى النقصان.',
} satisfies FloorWords['readingChecks']
