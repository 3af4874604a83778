import type { OfficeRefusal, OfficeRule } from '@musterbook/vocabulary/office-refusals'
import type { HouseContext } from './route.ts'
import { problem } from './problem.ts'

/** As `refusalStatus`, for the office's own rules. */
const officeStatus = {
  notSetUp: 409,
  alreadySetUp: 409,
  wrongSetUpCode: 403,
  noSuchTimeZone: 422,
  commandIdReused: 409,
  tryAgain: 409,
  changedMeanwhile: 409,
  noSuchPerson: 404,
  personLeft: 409,
  lastCoordinator: 409,
  wrongPin: 403,
  tooManyTries: 429,
  noPin: 403,
  pinTooSimple: 422,
  pinSame: 422,
  firstPin: 403,
  noSuchDevice: 404,
  codeNotKnown: 404,
  codeUsed: 409,
  codeExpired: 409,
  deviceRevoked: 409,
  fileUnreadable: 422,
  columnsMissing: 422,
  noSuchPreview: 404,
  previewOutdated: 409,
  noSuchClass: 404,
  classExists: 409,
  noSuchStudent: 404,
  codeTaken: 409,
  noMatch: 404,
  lookUpWait: 429,
  impossibleBirthDate: 422,
  photoUnusable: 422,
  evidenceUnusable: 422,
  noSuchZone: 404,
  noSuchStation: 404,
  zoneInUse: 409,
  noSuchEquipment: 404,
  equipmentExists: 409,
  noSuchOffer: 404,
  notAdoptable: 409,
  alreadyProposed: 409,
  alreadyInForce: 409,
  noSuchProposal: 404,
  notInForce: 409,
  secondPersonSame: 403,
  secondPersonMissing: 403,
  personNeeded: 401,
  onlyScreener: 403,
  reasonMissing: 422,
  questionsNotInForce: 409,
  answersDoNotFit: 422,
  noSuchCase: 404,
  caseClosed: 409,
  deadlineBeforeReceipt: 422,
  noSuchMoment: 404,
  noSuchExhibit: 422,
  noSuchDecision: 404,
  alreadyDecided: 409,
  ownDecision: 403,
  decisionNotApproved: 409,
  noSuchCorrection: 404,
  letterNotSent: 409,
  noSuchOpening: 404,
  ownOpening: 403,
} as const satisfies Record<OfficeRule, number>

export function officeNo(c: HouseContext, refused: OfficeRefusal, more: Record<string, unknown> = {}): Response {
  return problem(c, officeStatus[refused.rule], `${refused.says} ${refused.next}`, { title: refused.says, refused, ...more })
}

/** The thing asked for, or the office's refusal as a problem document. */
export function officeSaid(c: HouseContext, said: object, status: 200 | 201 = 201): Response {
  return 'refused' in said ? officeNo(c, said.refused as OfficeRefusal) : c.json(said, status)
}
