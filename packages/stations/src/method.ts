import type { Protocol } from './protocol.ts'

/**
 * How a result was measured, as far as that decides what it may be compared with: clock, course, box, bar, track. Two
 * results whose methods differ in any of these are not directly comparable. Languages and wording are not part of it.
 */
export function methodOf(protocol: Protocol): Record<string, string> {
  return {
    station: protocol.protocolId,
    counts: protocol.official,
    ...(protocol.timing && { timing: protocol.timing }),
    ...ofKind(protocol),
  }
}

function ofKind(protocol: Protocol): Record<string, string> {
  switch (protocol.kind) {
    case 'skinfold':
      return { equation: `${protocol.details.equation}, ${protocol.details.conversion}`, repeatRule: protocol.details.repeatRule.name }
    case 'timed': {
      const { lengthMm, markers, turningSide } = protocol.details.course
      return {
        course: `${lengthMm} mm`,
        ...(markers !== undefined && { markers: `${markers}` }),
        ...(turningSide && { turningSide }),
      }
    }
    case 'measured': {
      const { instrument, footLineMm } = protocol.details
      return { instrument, ...(footLineMm !== undefined && { footLine: `${footLineMm} mm` }) }
    }
    case 'loaded':
      return { scoredAs: protocol.scoreUnit }
    case 'counted':
      return { window: protocol.details.windowMs === undefined ? 'none' : `${protocol.details.windowMs} ms` }
    case 'run': {
      const { lapMm, laps, startOffsetMm } = protocol.details.track
      return { track: `${laps} laps of ${lapMm} mm and ${startOffsetMm} mm` }
    }
  }
}
