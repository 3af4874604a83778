import { z } from 'zod'
import { Envelope } from '@musterbook/vocabulary/envelope'
import { StudentId, TextId } from '@musterbook/vocabulary/ids'
import { AnswerHealth, NoteHealth, OpenHealth, OpenHealthInEmergency, ReviewOpening, type Told } from '@musterbook/vocabulary/office'
import type { Role } from '@musterbook/vocabulary/people'
import { officeSaid } from '../http/office-status.ts'
import { route, type HouseContext, type Route } from '../http/route.ts'
import { byOf, ownEnvelope } from '../told.ts'
import type { Tools } from '../tools.ts'

const outside = 'Medical records are outside your role.'
const screener: readonly Role[] = ['screener']
const emergency: readonly Role[] = ['greeter', 'station', 'safety', 'supervisor', 'coordinator']
const reviewers: readonly Role[] = ['supervisor', 'coordinator']
const Kept = z.object({ kept: z.literal(true) })
const HealthRecordAnswer = z.object({ studentId: StudentId, answers: z.array(z.unknown()), notes: z.array(z.unknown()) })

/** The medical compartment. Nothing is opened before its opening stands in the record. */
export const medicalRoutes = (tools: Tools): Route[] => {
  const { office, access } = tools
  const told = (c: HouseContext, envelope?: Envelope): Told => ({ by: byOf(c), envelope: envelope ?? ownEnvelope(tools) })

  return [
    route('get', '/api/medical/questions', {
      says: 'The health questions in force; null when none are adopted.',
      may: ['kiosk', 'greeter', 'screener'],
      outside,
      answer: z.unknown(),
      go: async (c) => c.json(await office.healthQuestions()),
    }),
    route('post', '/api/medical/answers', {
      says: 'A student’s own answers, at the kiosk or the desk. They go in and are not read back.',
      may: ['kiosk', 'greeter', 'screener'],
      outside,
      body: AnswerHealth,
      answer: Kept,
      status: 201,
      go: async (c, { body }) => officeSaid(c, await office.answerHealth(body)),
    }),
    route('post', '/api/medical/notes', {
      says: 'A screener’s note, or the reason for a clearance.',
      may: screener,
      outside,
      body: z.strictObject({ envelope: Envelope.optional(), body: NoteHealth }),
      answer: Kept,
      status: 201,
      go: async (c, { body: { envelope, body } }) => officeSaid(c, await office.noteHealth(body, told(c, envelope))),
    }),
    route('post', '/api/medical/openings', {
      says: 'Opens one student’s answers and notes. Written down first.',
      may: screener,
      outside,
      body: OpenHealth,
      answer: HealthRecordAnswer,
      status: 201,
      go: async (c, { body }) => officeSaid(c, await office.openHealth(body, told(c), access.tell)),
    }),
    route('post', '/api/medical/texts/:textId/openings', {
      says: 'Opens words about health that were reported to a day. Written down first.',
      may: screener,
      outside,
      body: z.strictObject({ studentId: StudentId }),
      answer: z.object({ text: z.string().nullable() }),
      status: 201,
      async go(c, { body: { studentId } }) {
        const textId = TextId.safeParse(c.req.param('textId'))
        return textId.success
          ? officeSaid(c, await office.openMedicalText(textId.data, studentId, told(c), access.tell))
          : c.json({ text: null }, 201)
      },
    }),
    route('post', '/api/medical/emergency-openings', {
      says: 'Opens one student’s answers and notes to a person of another role, with a reason. Written down first; somebody else reviews it.',
      may: emergency,
      outside,
      body: OpenHealthInEmergency,
      answer: HealthRecordAnswer.extend({ openingId: z.string() }),
      status: 201,
      go: async (c, { body }) => officeSaid(c, await office.openHealthInEmergency(body, told(c), access.tell)),
    }),
    route('get', '/api/medical/emergency-openings', {
      says: 'Emergency openings that wait for review.',
      may: [...screener, ...reviewers],
      outside,
      answer: z.array(z.unknown()),
      go: async (c) => c.json(await office.openingsToReview()),
    }),
    route('post', '/api/medical/emergency-openings/reviews', {
      says: 'A review of an emergency opening, by somebody else.',
      may: [...screener, ...reviewers],
      outside,
      body: ReviewOpening,
      answer: z.object({ openingId: z.string() }),
      status: 201,
      go: async (c, { body }) => officeSaid(c, await office.reviewOpening(body, told(c), access.tell)),
    }),
    route('get', '/api/medical/access', {
      says: 'Who opened health data, and who asked for it and was refused.',
      may: screener,
      outside,
      answer: z.array(z.unknown()),
      async go(c) {
        const ofHealth = (await access.read()).filter(({ event }) =>
          event.type === 'roleRefused' ? event.health : /^(health|emergency)/.test(event.type),
        )
        return c.json(ofHealth)
      },
    }),
  ]
}
