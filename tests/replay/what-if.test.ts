import { expect, test } from 'vitest'
import * as c from '@musterbook/day/controls'
import type { Draft, Ledger } from '@musterbook/ledger/ledger'
import { memoryLedger } from '@musterbook/ledger/memory'
import { whatIf, type Imagined } from '@musterbook/replay/what-if'
import type { TestDay } from '@musterbook/vocabulary/command'
import { DayEvent } from '@musterbook/vocabulary/events'

/* A what-if cannot enter the record: not by its type, which the compiler says here, and not by its data. */

function imagined(): Imagined {
  const day = c.drive()
  c.opened([c.expected('116')])(day)
  c.all(c.ready('116'), c.tries('116', 'agility', 'a-1', c.seconds(1720)))(day)
  return whatIf(c.dayId, day.entries, [{ kind: 'leaveOut', entries: [{ stream: day.entries[0]!.stream, version: day.entries.length }] }])
}

/** Never run: it does not compile if a part of a what-if becomes something that is taken. */
export async function takenByNothing(ledger: Ledger, testDay: TestDay, one: Imagined): Promise<void> {
  // @ts-expect-error a what-if is no draft
  await ledger.append('day/x', 0, one)
  // @ts-expect-error an entry of it is no draft either
  await ledger.append('day/x', 0, one.supposed[0]!)
  // @ts-expect-error nor are its entries events
  const draft: Draft['events'] = one.supposed
  // @ts-expect-error and no command is made of it
  await testDay.tell(one)
  void draft
}

test('as data it is no event and no draft: a ledger that is handed one all the same throws and stays empty', async () => {
  const one = imagined()
  for (const part of [one, ...one.supposed]) {
    expect(DayEvent.safeParse(part).success).toBe(false)
    const ledger = memoryLedger()
    await expect(async () => ledger.append('day/x', 0, part as never)).rejects.toThrow()
    expect(await ledger.streams('')).toEqual([])
  }
})
