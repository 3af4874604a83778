// Not yet reviewed by a native speaker.
import type { FloorWords } from '../en.ts'
import { figure } from '../figures.ts'

export const cautions = {
  title: 'Sobre esta tableta',
  battery: (percent: number, minutes: number | null) =>
    `Batería ${figure(percent)} %${minutes === null ? '' : `, quedan unos ${figure(minutes)} min`}. Enchúfela o cambie de tableta ahora.`,
  storage: 'El espacio de esta tableta está casi lleno. Acérquela para que envíe lo que guarda, o cámbiela.',
  newVersion:
    'Espera una versión nueva de esta pantalla. Entra cuando aquí no haya nadie con sesión ni nada en curso; lo guardado aquí permanece.',
  clocks: (seconds: number) =>
    `Los relojes de esta tableta difieren en ${figure(seconds)} s. Los tiempos tomados aquí esperan al supervisor; anótelos también con un cronómetro de mano.`,
} satisfies FloorWords['cautions']
