import { rules, type Rule } from '@musterbook/vocabulary/refusals'
import { count } from './figures.ts'
import type { FloorScreens } from './floor-screens.ts'
import { cautions } from './en/cautions.ts'
import { radio } from './en/radio.ts'
import { station } from './en/station.ts'

/** What a refusal says on a screen. Never blames, never jokes. */
export interface RefusalWords {
  /** What is missing or in force. */
  says: (params: Record<string, string | number>) => string
  /** What to do next. */
  next: (params: Record<string, string | number>) => string
  /** Who can resolve it. */
  who: string
}

/** What each screen of the floor says in English. What its other screens say besides is in `floor-screens.ts`: the station does not load it. */
export const en = {
  product: 'Musterbook',
  /** The day's own rules, in its own words. A rule that another language cannot say does not compile. */
  refusals: rules as Record<Rule, RefusalWords>,

  /** What the site itself says no to on the floor, by its rule. In English its own sentence stands as it came. */
  siteRefusals: {} as Partial<Record<string, RefusalWords>>,

  common: {
    cancel: 'Cancel',
    close: 'Close',
    back: 'Back',
    continue: 'Continue',
    confirm: 'Confirm',
    save: 'Save',
    undo: 'Undo',
    yes: 'Yes',
    no: 'No',
    unknown: 'Unknown',
    none: 'None',
    optional: 'optional',
    by: (person: string) => `by ${person}`,
    ago: (age: string) => `${age} ago`,
    since: (clock: string, age: string) => `since ${clock}, ${age}`,
    bib: (bib: string) => `#${bib}`,
  },

  caution: {
    defers: 'Local policy and licensed clinicians decide. This tool records and relays. In an emergency act first and record later.',
    quiet: 'No hold in force does not rule out heat illness.',
  },

  shell: {
    reaching: 'Reaching the site',
    reachingHelp: 'If this stays, check the Wi-Fi. Stop and hold by voice, whistle and radio meanwhile.',
    sending: (what: string) => `Sending: ${what}`,
    stopped: 'Student stopped',
    stopTold: (who: string, clock: string) => `${who} was stopped here at ${clock}. The site’s own card:`,
    cardNotHere: 'The emergency card could not be opened here.',
    cardNotHereNext: 'Call the local emergency number and the safety officer.',
    holdRaised: 'Hold raised',
    byPolicy: 'the heat policy',
    notYours: (screen: string) => `${screen} is not among your tasks here`,
    notYoursHelp: 'Somebody with the right role signs on, or a supervisor changes the assignment.',
    someoneElse: 'Sign on as somebody else',
    noDay: 'No day is open',
    noDayHelp: 'The coordinator opens the day on the office screen. This screen follows by itself.',
    troubled: (n: number) =>
      count(n, {
        one: '# item could not be read by the site. It is kept whole there and here: call the supervisor.',
        other: '# items could not be read by the site. They are kept whole there and here: call the supervisor.',
      }),
    carry: (n: number) =>
      count(n, { one: 'Carry what is kept here (#) by file or code', other: 'Carry what is kept here (#) by file or code' }),
    lockedLost: (by: string, clock: string) => `This tablet was locked by ${by} at ${clock}. Give it to the supervisor.`,
    lockedSending: (n: number) =>
      count(n, {
        one: '# thing that it kept is still being told to the site. Leave it switched on and in reach of the Wi-Fi.',
        other: '# things that it kept are still being told to the site. Leave it switched on and in reach of the Wi-Fi.',
      }),
    lockedEmpty: 'It keeps nothing any more. A supervisor may unlock it.',
    keepsNothing: 'This browser keeps nothing (a private window or a full disk). Do not run a station on it.',
    notKeptTitle: (what: string) => `Not saved: ${what}`,
    notKept: 'This tablet could keep nothing, and the site was not reached.',
    notKeptNext: 'Write it on paper with its time, and go on with another tablet. A stop or a hold: by voice, whistle and radio.',
    saveAgain: 'Save again',
    notReached: 'The site was not reached. Nothing was started.',
    refusedLater: (what: string) => `When it was told, the day said no to what was decided here: ${what}`,
    pinDue: (name: string) =>
      `${name}: the site asks for your PIN. What happens meanwhile is kept and told under your name; starts and decisions wait for the PIN.`,
    pinGive: 'Enter the PIN',
    aloneStrip: 'Out of contact: starts are decided here and what happens is kept. Nothing is lifted, restored, cleared or ruled.',
    needsSite: (screen: string) => `${screen} needs the server`,
    needsSiteHelp: 'It is not reached. What is typed here stays; it goes on by itself when the server is heard. Use the radio meanwhile.',
    noStation: 'No station runs on this tablet',
    noStationHelp:
      'Its browser keeps nothing that is recorded here (a private window or a full disk). Take another tablet, or free space and sign on again. Stop and hold still work.',
    mayBeCleared:
      'This browser has not promised to keep what is recorded out of contact. Install the app on this tablet, or stay in reach.',
    signOnAloneTitle: 'Who is working here, out of contact?',
    signOnAlone: (hours: number) =>
      `No PIN can be checked now. Only people who signed on here in the last ${hours} hours are listed; it is recorded that they signed on out of contact.`,
    forgotten: 'The hours of the day are over: this tablet has cleared what it knew of it',
    forgottenHelp: (kept: number) =>
      `${kept === 0 ? 'Nothing waits to be told.' : `${kept} kept here and not in the record: still here.`} Take it to where the site answers: what is kept is told, and the day comes back with your PIN. Until then use radio, horn and another tablet.`,
    signOnAloneNobody: 'Nobody has signed on at this tablet lately',
    signOnAloneNobodyHelp:
      'Take a tablet that is in contact, or one where you have signed on today. Stop and hold work here without a name.',
    signedOnAlone: 'signed on out of contact',
    locked: 'This screen has locked.',
    notUnderstood: 'The site could not take this.',
    tryAgain: 'Try again. If it stays, radio the supervisor.',
    anyone: 'Whoever stands here',
    nobodyWears: (bib: string) => `Nobody wears ${bib} today.`,
    nobodyWearsNext: 'It may be of another day, or given anew since. Read it again, or find the student by name.',
    readBib: 'Read a bib by camera',
    holdBib: 'Hold the code of the bib in front of the camera',
    readBadge: 'Read a badge',
    holdBadge: 'Hold the code of the badge in front of the camera',
    badgeNumber: 'Or type the number on it',
    badgeNotHere: (badge: string) => `No badge ${badge} has signed on at this tablet lately.`,
    closeCamera: 'Close the camera',
    noCamera: 'No camera opened here.',
    noCameraNext: 'Use a hand scanner, or choose the student from the list.',
    noSuchBib: 'Nobody wears that bib today.',
    noSuchBibNext: 'Look at the bib again, or stop the student by voice and tell the supervisor.',
    unsentFirst: (n: number) =>
      count(n, {
        one: '# thing here is kept on this tablet alone and is not yet in the record.',
        other: '# things here are kept on this tablet alone and are not yet in the record.',
      }),
    unsentNext: 'Bring the tablet into reach of the Wi-Fi and wait until nothing is unsent, then sign off.',
    enrolTitle: 'This device is not enrolled',
    enrolHelp: 'A supervisor or the coordinator makes a code on their screen: Devices, Add a device.',
    enrolCode: 'Enrolment code',
    enrol: 'Enrol this device',
    setUpFirst: 'Nobody has set this server up yet. Open the set-up page.',
    setUpLink: 'Set up',
    signOnTitle: 'Who is working here?',
    signOnHelp: 'Choose your name, then your PIN. Signing on takes over from whoever was here.',
    pin: 'PIN',
    signOn: 'Sign on',
    otherName: 'Another name',
    findName: 'Find a name',
    firstPin: 'This PIN was set for you, so somebody else knows it. Choose your own before anything else.',
  },

  ownPin: {
    title: 'Change my PIN',
    help: 'Known to nobody else. Four to twelve digits, not in a row and not all alike.',
    old: 'PIN now',
    new: 'New PIN',
    again: 'New PIN again',
    differ: 'The two new PINs differ.',
    save: 'Change it',
    changed: 'PIN changed',
    wrong: 'Four to twelve digits.',
  },

  language: {
    label: 'Language of this screen',
    notHad: (name: string) => `${name} is not on this device yet: it needs contact with the site.`,
  },

  frame: {
    status: 'This tablet',
    signedOn: (person: string) => `Signed on: ${person}`,
    notSignedOn: 'Nobody signed on',
    signOn: 'Sign on',
    signOff: 'Sign off',
    contact: (age: string) => `Heard the site ${age} ago`,
    contactNever: 'Contact unknown',
    contactStale: (age: string) => `Out of contact for ${age}`,
    unsent: (n: number) => (n === 0 ? 'Nothing unsent' : `${count(n, { one: '# unsent', other: '# unsent' })}`),
    clock: 'Time at the site',
    stopStudent: 'Stop a student',
    raiseHold: 'Raise a hold',
    callStaff: 'Call staff',
    card: 'Emergency card',
    themeIndoor: 'Indoor',
    themeOutdoor: 'Outdoor',
    rehearsal: 'Rehearsal: nothing here enters a real record',
    speed: (times: string) => `The clock runs ${times} times as fast`,
    noHold: 'No hold in force',
  },

  states: {
    met: 'Met',
    notMet: 'Not met',
    unknown: 'Unknown',
    waiting: 'Waiting',
    called: 'Called up',
    underWay: 'Under way',
    done: 'Done',
    hold: 'Hold in force',
    stopped: 'Stopped',
    cleared: 'Cleared',
    limited: 'Cleared with limits',
    pending: 'Pending',
    notToday: 'Not today',
    withdrawn: 'Withdrawn',
    review: 'Under review',
    blocked: 'Blocked',
  },

  stopStudent: {
    title: 'Stop which student?',
    help: 'They start nothing until a medical screener restores them. Their laps and tries so far are kept.',
    underWayHere: 'Under way here',
    others: 'Everybody else with a bib',
    bib: 'Another bib',
    stop: (bib: string) => `Stop ${bib}`,
    stopBib: 'Stop',
  },

  evidence: {
    take: 'Photo',
    noFace: 'of display or bar, no faces',
    again: 'Photo again',
    taken: 'goes with this result',
    show: 'Photo',
    alt: 'Picture taken of the display or the bar when this was read',
    notHere: 'This picture is not in the record yet. The tablet that took it may still have it.',
    notIt: 'This is not the picture that was recorded: its bytes give another digest.',
    digest: (digest: string) => `Kept in the record by its digest: ${digest}`,
    unsent: (n: number) => count(n, { one: '# photo on this tablet only', other: '# photos on this tablet only' }),
    broken: 'That picture could not be read',
    brokenNext: 'Take it again. The value is saved with or without it.',
  },

  raiseHold: {
    title: 'Raise a hold',
    help: 'Everyone under way in the zone is told to stop. Lifting takes the safety officer and a second person.',
    zone: 'Zone',
    raise: (kind: string, zone: string) => `${kind} ${zone}: raise a hold`,
    wholeSite: 'Everywhere outdoors',
    kinds: { heat: 'Heat', lightning: 'Lightning', cold: 'Cold', air: 'Air', other: 'Other' },
  },

  sound: {
    off: 'Sound is off on this tablet. Touch to test it.',
    none: 'This browser has no sound. Watch the screen and listen to the radio.',
    silent: 'Sound is off on this tablet: this is shown and not heard. Touch to turn it on, and tell people by voice.',
  },

  hold: {
    title: 'Stop',
    zone: (zone: string) => `Hold in force: ${zone}`,
    reason: (reason: string) => `Reason: ${reason}`,
    raised: (clock: string, person: string) => `Raised ${clock} by ${person}`,
    underWay: (n: number) => count(n, { one: '# under way when it was raised', other: '# under way when it was raised' }),
    acknowledge: 'I have heard it',
    heardHere: 'Hold heard here',
    orderUnknown: 'It cannot be said which came first, the hold or the start. The hold governs.',
  },

  gates: {
    title: 'Before a start',
    allMet: 'Every gate is met',
    open: (notMet: number, unknown: number) =>
      [
        notMet > 0 ? count(notMet, { one: '# gate not met', other: '# gates not met' }) : '',
        unknown > 0 ? count(unknown, { one: '# gate unknown', other: '# gates unknown' }) : '',
      ]
        .filter(Boolean)
        .join(', '),
    resolver: (who: string) => `Resolved by: ${who}`,
  },

  queue: {
    title: 'Cleared and waiting',
    waiting: (n: number) => (n === 0 ? 'Nobody is waiting' : count(n, { one: '# is waiting', other: '# are waiting' })),
    callUp: 'Call up',
    callUpNamed: (name: string, bib: string) => `Call up ${name}, ${bib}`,
    emptyHelp: 'Students join when they are cleared and have warmed up.',
  },

  student: {
    lookAlike: 'Similar name today',
    bib: 'Bib',
    face: (name: string) => `Picture of ${name}`,
  },

  numberPad: {
    clear: 'Clear',
    remove: 'Remove last',
    minus: 'Minus',
    decimal: 'Decimal mark',
    empty: 'No value yet',
    ask: 'Is that what you read?',
    keep: (value: string) => `Keep ${value}`,
    retype: 'Type it again',
  },

  stopwatch: {
    label: 'Stopwatch',
    start: 'Start',
    stop: 'Stop',
    split: 'Split',
    splits: 'Splits',
    running: 'Running',
    stopped: 'Watch stopped',
    ready: 'Ready',
  },

  laps: {
    toGo: (n: number) => (n === 0 ? 'Finished' : count(n, { one: '# lap to go', other: '# laps to go' })),
    expected: (duration: string) => `expected in ${duration}`,
    overdue: (duration: string) => `expected ${duration} ago`,
    crossed: 'crosses the line,',
    takeBack: 'Touches that can be taken back',
    undo: (bib: string, seconds: number) => `Undo ${bib}: ${seconds} s`,
    possibleMiss: 'Possible missed crossing',
    finishedGroup: 'Finished',
    runners: 'Runners by next crossing',
  },

  load: {
    title: 'Load on the bar',
    less: (step: string) => `Less ${step}`,
    more: (step: string) => `More ${step}`,
    efforts: (used: number, of: number) => `Effort ${Math.min(used + 1, of)} of ${of}`,
    left: (n: number) => (n === 0 ? 'No efforts left' : count(n, { one: '# effort left', other: '# efforts left' })),
    good: 'Good lift',
    noLift: 'No lift',
    history: 'Efforts so far',
    set: (load: string) => `${load} is on the bar: start`,
    outcome: 'How did it go?',
  },

  skinfolds: {
    title: 'Skinfold sites',
    reading: (n: number) => `Reading ${n}`,
    missing: 'not read yet',
    third: 'The two readings differ by more than the protocol allows: a third is needed.',
    next: 'Next',
    unit: 'mm',
  },

  refusal: {
    title: 'Not started',
    rule: 'Rule',
    resolver: 'Who can resolve it',
    next: 'What next',
    kept: 'This refusal is kept in the record.',
    keptHere: 'Said by this tablet, out of contact. It is kept here and told later.',
    fallback: {
      says: 'The day does not allow this now.',
      who: 'Supervisor',
      next: 'Ask the supervisor and name the rule.',
    },
  },

  said: {
    kept: 'Kept on this tablet',
    keptHelp: 'It is sent when the site is heard again.',
    recorded: 'In the record',
    at: (clock: string) => `at ${clock}`,
    number: (n: number) => `entry ${n}`,
    review: 'Waits for the supervisor',
  },

  reading: {
    line: (age: string, place: string, instrument: string) => `read ${age} ago, ${place}, ${instrument}`,
    by: (person: string) => `by ${person}`,
    stale: (limit: string) => `Older than ${limit}: treated as unknown`,
    notSettled: 'Not settled',
    none: 'No reading',
  },

  acknowledgements: {
    title: 'Who has heard it',
    heard: 'Heard',
    notHeard: 'Not heard',
    unreachable: 'Out of contact',
    tally: (heard: number, of: number) => `${heard} of ${of} heard`,
    after: (duration: string) => `after ${duration}`,
  },

  timeline: {
    by: (person: string, device: string) => `${person}, ${device}`,
    late: (duration: string) => `recorded ${duration} later`,
    empty: 'Nothing recorded yet',
  },

  steps: {
    first: 'First',
    previous: 'Step back',
    next: 'Step on',
    last: 'Last',
    position: (n: number, of: number) => `Entry ${n} of ${of}`,
    slider: 'Moment in the day',
  },

  table: {
    empty: 'Nothing to list',
  },

  chart: {
    table: 'The same as a table',
    time: 'Time',
    value: 'Value',
  },

  percentile: {
    within: (group: string, table: string) => `Percentile within group ${group}, table ${table}`,
    value: (n: number) => `${n} of 100`,
    none: 'No percentile',
  },

  qr: {
    code: (text: string) => `Code: ${text}`,
  },

  files: {
    choose: 'Choose a file',
    drop: 'or drop it here',
    chosen: (name: string, size: string) => `${name}, ${size}`,
    wrongKind: (kinds: string) => `This takes ${kinds}.`,
    tooLarge: (limit: string) => `Larger than ${limit}.`,
  },

  progress: {
    of: (n: number, of: number) => `${n} of ${of}`,
    working: 'Working',
  },

  station,

  radio,
  cautions,

  outcomes: {
    noContact: 'The site was not reached. Nothing has been lost: try again, or use the radio.',
    notSignedOn: 'Sign on first.',
    notYours: 'Your role does not include this.',
    notUnderstood: 'The site did not understand this.',
    changedSince: 'Changed since you opened it; review the new version.',
    broken: 'Something broke at the site. It has been written down there.',
  },
}

/** What every language says whole: whatever somebody on the floor may read. */
export type FloorWords = typeof en & FloorScreens

/** Rules of the site that somebody on the floor may meet: at sign-on, at enrolment, at the kiosk, with a walk-in. */
export type SiteRule =
  | 'wrongPin'
  | 'tooManyTries'
  | 'noPin'
  | 'personLeft'
  | 'badgeUnknown'
  | 'badgeTakenBack'
  | 'badgeNotToday'
  | 'tryAgain'
  | 'codeNotKnown'
  | 'codeUsed'
  | 'codeExpired'
  | 'deviceRevoked'
  | 'codeTaken'
  | 'noMatch'
  | 'lookUpWait'
  | 'impossibleBirthDate'
  | 'answersDoNotFit'
