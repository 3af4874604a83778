import { count, figure } from '../figures.ts'

export const carried = {
  title: 'Carried by hand',
  giveOut: 'From this tablet',
  waiting: (n: number, device: string) =>
    count(n, { one: `# act is kept on ${device} and not in the record.`, other: `# acts are kept on ${device} and not in the record.` }),
  nothing: (device: string) => `There is nothing to carry: nothing waits on ${device}.`,
  giveOutHelp:
    'For a tablet that will not reach the site again today. Everything stays here as well; what arrives twice counts once. Photos are not carried.',
  file: 'Save as a file',
  codes: 'Show as codes',
  codeOf: (n: number, of: number) => `Code ${figure(n)} of ${figure(of)}`,
  before: 'Before',
  next: 'Next code',
  bringIn: 'Bring in from another tablet',
  bringInHelp:
    'Nothing is sent before you have seen what it holds. Each act keeps its own time and its own person; your name stands as who carried it.',
  chooseFile: 'The file of the other tablet',
  readCodes: 'Read its codes with the camera',
  camera: 'Hold the code on the other tablet in front of the camera',
  noCamera: 'No camera opened here. Use the file.',
  seen: (n: number, of: number, missing: string) => `${figure(n)} of ${figure(of)} codes read. Still to read: ${missing}`,
  notOne: 'This is not a whole, unchanged file of a tablet.',
  again: 'Save it anew at the tablet, or read its codes again.',
  holds: (n: number, device: string) => count(n, { one: `It holds # act of ${device}`, other: `It holds # acts of ${device}` }),
  nobody: 'nobody signed on',
  item: (act: string, about: string | null, clock: string | null, by: string) =>
    [act, about, clock, by].filter((one) => one !== null).join(' · '),
  send: (n: number) => count(n, { one: 'Send # act to the record', other: 'Send # acts to the record' }),
  became: {
    recorded: 'in the record',
    knownAlready: 'was in the record already',
    refused: 'refused, and the refusal is kept',
    kept: 'kept whole for the supervisor',
  },
}
