import type { Track } from './protocol.ts'

/** Six laps of 400 m are 14.016 m short of a mile and a half: the venue's own track is held against the protocol's distance. */
export interface TrackCheck {
  /** False: the protocol cannot be used at this venue until the start is moved. */
  isRight: boolean
  runMm: number
  /** Negative when the way is too short. */
  differenceMm: number
  /** The start offset that would make it right. */
  neededStartOffsetMm: number
}

export function trackCheck(track: Track, distanceMm: number, toleranceMm: number): TrackCheck {
  const lapsMm = track.lapMm * track.laps
  const runMm = lapsMm + track.startOffsetMm
  const differenceMm = runMm - distanceMm
  return { isRight: Math.abs(differenceMm) <= toleranceMm, runMm, differenceMm, neededStartOffsetMm: distanceMm - lapsMm }
}

/** What the missing way would have taken at the same pace, in the unit of `time`. For comparison only: a result is never corrected by it. */
export const shortTrackCorrection = (time: number, runMm: number, distanceMm: number): number => (time * (distanceMm - runMm)) / runMm
