import { words } from '../words/words.ts'

/** '14:22, 10th', as far as there is one. */
export const resultSays = ({ says, placing }: { says: string | null; placing: string | null }): string =>
  says === null ? words.replay.noResult : placing ? words.replay.result(says, placing) : says
