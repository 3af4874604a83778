import { z } from 'zod'
import { StationId, StudentId } from './ids.ts'

const Place = z.strictObject({ studentId: StudentId, stationId: StationId })

export const JoinQueue = Place
export const LeaveQueue = Place
export const CallUp = Place
export const SendBack = Place

export const QueueJoined = z.strictObject({ type: z.literal('queueJoined'), ...Place.shape })
export const QueueLeft = z.strictObject({ type: z.literal('queueLeft'), ...Place.shape })
export const CalledUp = z.strictObject({ type: z.literal('calledUp'), ...Place.shape })
/** Called but not started: back to the head of the queue. */
export const SentBack = z.strictObject({ type: z.literal('sentBack'), ...Place.shape })
