export const board = {
  title: 'Call board',
  now: 'Called up now',
  waiting: 'Waiting, next first',
  underWay: 'Under way',
  nobodyCalled: 'Nobody is called up',
  nobodyWaits: 'Nobody waits',
  more: (n: number) => `and ${n} more`,
  hold: (zone: string) => `Hold: ${zone}`,
  holdSays: 'Nothing starts there. Staff say what to do.',
  called: 'Staff have been called. Somebody comes to this board.',
}
