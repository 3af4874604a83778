// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'

export const readingChecks = {
  valueMissing: 'Falta un valor que la fórmula necesita.',
  dryBulbOutsideSensor: 'El bulbo seco está fuera de -5 a 50 °C (23 a 122 °F).',
  wetBulbOutsideSensor: 'El bulbo húmedo está fuera de -5 a 50 °C (23 a 122 °F).',
  globeOutsideSensor: 'El globo está fuera de -5 a 100 °C (23 a 212 °F).',
  wbgtOutsideSensor: 'El WBGT está fuera de lo que estos sensores pueden dar.',
  psychrometricWetBulbAboveDryBulb: 'Un bulbo húmedo aspirado no puede estar por encima del bulbo seco.',
  humidityOutsideRange: 'La humedad está fuera de 0 a 100 %.',
  dewPointAboveDryBulb: 'El punto de rocío no puede estar por encima del bulbo seco.',
  looksLikeTheOtherUnit: 'Estos números solo parecen correctos en la otra unidad. ¿Cuál muestra el instrumento?',
  wetBulbAboveDryBulb: 'El bulbo húmedo está por encima del seco. ¿Está mojada la mecha y cada valor en su campo?',
  wickLooksDry: 'El bulbo húmedo coincide con el seco. ¿Está mojada la mecha?',
  drierThanAirGets: 'El bulbo húmedo está por debajo de lo que daría un aire muy seco. Léalo otra vez.',
  globeBelowDryBulb: 'El globo está por debajo del bulbo seco. ¿Está a la sombra?',
  globeNearDryBulbInSun: 'El globo apenas supera al bulbo seco. ¿Le da de verdad el sol?',
  globeFarAboveDryBulbWithoutSun: 'El globo supera con mucho al bulbo seco. ¿De verdad no le da el sol?',
  globeVeryFarAboveDryBulb: 'El globo supera en más de 30 °C al bulbo seco. Léalo otra vez.',
  jumpedSinceLastReading: 'Ha cambiado mucho desde la última lectura aquí. Léalo otra vez.',
  notSettled: 'El instrumento no lleva colocado el tiempo necesario para estabilizarse.',
  globeIsNot150mm: 'El globo no es de 150 mm: uno pequeño marca menos con sol y viento.',
  psychrometricInSunIsAnEstimate: 'Un bulbo húmedo aspirado al sol da una estimación, y se queda corto.',
} satisfies FloorWords['readingChecks']
