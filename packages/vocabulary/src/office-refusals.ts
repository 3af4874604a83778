type Params = Record<string, string | number>
interface Says {
  says: (p: Params) => string
  next: string
  who: string
}
const rule = (says: Says['says'] | string, next: string, who: string): Says => ({
  says: typeof says === 'string' ? () => says : says,
  next,
  who,
})

/** Every reason for which the office says no. */
const officeRules = {
  notSetUp: rule('This server has no site yet.', 'Set it up with the one-time code that it printed at its first start.', 'Coordinator'),
  alreadySetUp: rule('This server is set up already.', 'Sign on.', 'Coordinator'),
  wrongSetUpCode: rule('That is not the set-up code.', 'Read it again from the place where the server was started.', 'Coordinator'),
  noSuchTimeZone: rule((p) => `There is no time zone ${p['timeZone']}.`, 'Name it as Region/City, for example Europe/Oslo.', 'Coordinator'),
  commandIdReused: rule('This was told before with other content.', 'Send it again as a new command.', 'Nobody needs to'),
  tryAgain: rule('Somebody else was faster.', 'Try again.', 'Nobody needs to'),

  changedMeanwhile: rule(
    (p) => `Somebody else saved a change since you opened this: ${p['what']}.`,
    'Nothing of yours was saved. Open it again, and change what you still want changed.',
    'Whoever asks',
  ),
  noSuchPerson: rule('There is no such person here.', 'Open the list of people again.', 'Coordinator'),
  personLeft: rule('This person has left.', 'Add the person again.', 'Coordinator'),
  lastCoordinator: rule('Somebody must stay coordinator.', 'Make another person coordinator first.', 'Coordinator'),
  wrongPin: rule('That is not this person’s PIN.', 'Type it again, or ask the coordinator for a new one.', 'Coordinator'),
  tooManyTries: rule(
    (p) => `Too many wrong PINs; the next try is open in ${p['seconds']} s.`,
    'Wait, or ask the coordinator for a new PIN.',
    'Coordinator',
  ),
  noPin: rule('This person has no PIN yet.', 'The coordinator sets a first one.', 'Coordinator'),
  pinTooSimple: rule('One digit repeated, or digits in a row, are guessed first.', 'Choose another PIN.', 'Whoever asks'),

  badgeUnknown: rule(
    'No badge of this site has that code.',
    'Choose the name in the list. The coordinator makes badges in the office, under People.',
    'Coordinator',
  ),
  badgeTakenBack: rule('That badge was taken back.', 'Choose the name in the list, and give the badge to the coordinator.', 'Coordinator'),
  badgeNotToday: rule(
    'Whoever this badge was made for is not among today’s staff.',
    'Give it to the coordinator. Somebody who works here today is added in the office, and gets a badge of their own.',
    'Coordinator',
  ),
  noBadge: rule('This person has no badge.', 'Open the list of people again.', 'Coordinator'),
  pinSame: rule('The new PIN is the old one.', 'Choose another PIN.', 'Whoever asks'),
  firstPin: rule('That PIN was set by somebody else.', 'Its person signs on and chooses their own first.', 'Whoever asks'),

  noSuchDevice: rule('There is no such device.', 'Open the list of devices again.', 'Supervisor'),
  codeNotKnown: rule('That enrolment code is not known.', 'Read it again, or ask for a new one.', 'Supervisor'),
  codeUsed: rule('That enrolment code has been used.', 'Ask for a new one: each enrols one device.', 'Supervisor'),
  codeExpired: rule('That enrolment code is too old.', 'Ask for a new one.', 'Supervisor'),
  alreadyLocked: rule('This device is locked already.', 'Open the list of devices again.', 'Supervisor'),
  notLocked: rule('This device is not locked.', 'Open the list of devices again.', 'Supervisor'),
  deviceRevoked: rule('This device is no longer enrolled.', 'Enrol it with a new code.', 'Supervisor'),

  fileUnreadable: rule((p) => `This file cannot be read as a table: ${p['why']}.`, 'Save it as CSV and choose it again.', 'Coordinator'),
  columnsMissing: rule(
    (p) => `No column for ${p['missing']} was found. The file has: ${p['found']}.`,
    'Name the columns in the first row, or say which is which.',
    'Coordinator',
  ),
  noSuchPreview: rule('This preview is gone.', 'Choose the file again.', 'Coordinator'),
  previewOutdated: rule('Students were changed since this preview.', 'Choose the file again and look at the new preview.', 'Coordinator'),

  erasureHeld: rule(
    (p) => `A case holds this record (${p['kind']}, received ${p['received']}): nothing of it is erased.`,
    'Close the case and end its hold first.',
    'Coordinator',
  ),
  erasureAskedAlready: rule('Erasure is asked for already.', 'Another person confirms it.', 'Supervisor'),
  erasureNotAsked: rule('Nobody has asked for this erasure.', 'A coordinator asks for it first.', 'Coordinator'),
  alreadyErased: rule('This record is erased already.', 'Nothing to do.', 'Nobody needs to'),

  noSuchClass: rule('There is no such class.', 'Open the list of classes again.', 'Coordinator'),
  classExists: rule((p) => `There is a class ${p['name']} already.`, 'Use it, or choose another name.', 'Coordinator'),
  noSuchStudent: rule('There is no such student.', 'Look the code up again.', 'Coordinator'),
  codeTaken: rule((p) => `Code ${p['code']} belongs to another student.`, 'Choose another code.', 'Coordinator'),
  noMatch: rule('Code and birth date do not belong together here.', 'Type both again, or ask the greeter.', 'Greeter'),
  lookUpWait: rule((p) => `Too many tries here; the next is open in ${p['seconds']} s.`, 'Ask the greeter.', 'Greeter'),
  impossibleBirthDate: rule((p) => `${p['birthDate']} cannot be a student’s birth date.`, 'Correct the birth date.', 'Coordinator'),
  evidenceUnusable: rule(
    'That is not a picture this server keeps as evidence (JPEG, PNG or WebP up to 400 kB).',
    'Take it again.',
    'Station staff',
  ),
  photoUnusable: rule('That is not a picture this server keeps (JPEG, PNG or WebP up to 2 MB).', 'Choose another picture.', 'Greeter'),

  noSuchZone: rule('There is no such zone.', 'Place the zone first.', 'Coordinator'),
  noSuchStation: rule('There is no such station.', 'Place the station first.', 'Coordinator'),
  zoneInUse: rule('Stations stand in this zone.', 'Move them first.', 'Coordinator'),
  noSuchEquipment: rule('There is no such equipment.', 'Open the register again.', 'Coordinator'),
  equipmentExists: rule('This equipment is registered already.', 'Open it in the register.', 'Coordinator'),

  noSuchOffer: rule('Nothing of that name is offered.', 'Open the list of rules again.', 'Coordinator'),
  ruleFileUnreadable: rule(
    (p) => `Line ${p['line']}: ${p['why']}. Nothing was changed.`,
    'Mend that line and choose the file again.',
    'Coordinator',
  ),
  notAdoptable: rule((p) => `It cannot be adopted: ${p['problems']}.`, 'Mend it first.', 'Coordinator'),
  alreadyProposed: rule('It is proposed already.', 'A second person confirms it.', 'Supervisor'),
  alreadyInForce: rule('It is in force already.', 'Nothing to do.', 'Nobody needs to'),
  noSuchProposal: rule('There is no such open proposal.', 'Open the list of rules again.', 'Coordinator'),
  notInForce: rule('It is not in force.', 'Nothing to end.', 'Nobody needs to'),
  secondPersonSame: rule('The second person must be a different one.', 'Ask another supervisor or coordinator.', 'Supervisor'),
  secondPersonMissing: rule('A second person must agree.', 'Ask a second person for their PIN.', 'Supervisor'),
  personNeeded: rule('Nobody is signed on.', 'Sign on first.', 'Whoever asks'),

  onlyScreener: rule(
    'Medical records are outside your role.',
    'Ask a medical screener; in an emergency, open with a reason.',
    'Medical screener',
  ),
  reasonMissing: rule('A reason is needed.', 'Write the reason.', 'Whoever asks'),
  questionsNotInForce: rule('No health questions are adopted.', 'Two people adopt them first.', 'Coordinator'),
  answersDoNotFit: rule((p) => `The answers do not fit the questions: ${p['why']}.`, 'Answer again.', 'Greeter'),
  noSuchCase: rule('There is no such case.', 'Open the list of cases again.', 'Supervisor'),
  caseClosed: rule('This case is closed.', 'Open a new case; it may name this one.', 'Supervisor'),
  deadlineBeforeReceipt: rule('The deadline lies before the receipt.', 'Put one of the two dates right.', 'Whoever asks'),
  noSuchMoment: rule('The day has no such moment for this student.', 'Choose a moment of the replay.', 'Supervisor'),
  noSuchExhibit: rule('The decision cites an exhibit that is not in this case.', 'Add the exhibit first.', 'Supervisor'),
  noSuchDecision: rule('No such draft waits for approval.', 'Open the case again.', 'Supervisor'),
  alreadyDecided: rule('A decision of this case is approved.', 'Open a new case to decide anew.', 'Coordinator'),
  ownDecision: rule('You drafted this decision.', 'Somebody else approves it or sends it back.', 'Coordinator'),
  decisionNotApproved: rule('No decision of this case is approved.', 'A second person approves it first.', 'Coordinator'),
  noSuchCorrection: rule('The day holds no such correction of this student.', 'Make the correction on the record first.', 'Supervisor'),
  letterNotSent: rule('Nothing was answered yet.', 'Send the letter first.', 'Supervisor'),
  noSuchOpening: rule('There is no such opening waiting for review.', 'Open the list again.', 'Supervisor'),
  ownOpening: rule('You made this opening.', 'Somebody else reviews it.', 'Supervisor'),
} as const satisfies Record<string, Says>

export type OfficeRule = keyof typeof officeRules

/** The office's "no": its rule, what to do next and who can resolve it. */
export interface OfficeRefusal {
  rule: OfficeRule
  params: Params
  says: string
  next: string
  who: string
}

export function officeRefusal(name: OfficeRule, params: Params = {}): { refused: OfficeRefusal } {
  const { says, next, who } = officeRules[name]
  return { refused: { rule: name, params, says: says(params), next, who } }
}
