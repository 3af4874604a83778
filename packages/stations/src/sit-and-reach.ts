import type { ValidTry } from './best-of.ts'
import { inSmallest, type ReadingUnit, sayValue } from './units.ts'

/**
 * A reach read on one box, to be scored as on another. Boxes put the soles at 0, 23 cm, 26 cm or 15 in (381 mm): a number
 * without its foot-line is no result. What was read stays as it was read.
 */
export const onFootLine = (reach: ValidTry, boxFootLineMm: number, wantedFootLineMm: number): ValidTry =>
  boxFootLineMm === wantedFootLineMm
    ? reach
    : {
        ...reach,
        shiftMicrometres: 1000 * (wantedFootLineMm - boxFootLineMm),
        before: [
          ...(reach.before ?? []),
          {
            step: 'derived',
            rule: `read on a box with its foot-line at ${boxFootLineMm} mm, scored at ${wantedFootLineMm} mm`,
            from: sayValue(reach.amount, reach.unit),
            gives: `${sayValue(wantedFootLineMm - boxFootLineMm, 'millimetres')} added`,
            sources: [reach.attemptId],
          },
        ],
      }

/** How far past the soles the fingertips came, in whole µm; negative when they did not reach them. */
export const pastSoles = (amount: number, unit: ReadingUnit, footLineMm: number): number => inSmallest(amount, unit) - footLineMm * 1000
