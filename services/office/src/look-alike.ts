interface Named {
  familyName: string
  givenName: string
}

/** Letters that no decomposition takes apart, as the passports of their countries write them. */
const spelled: Record<string, string> = { ß: 'ss', ø: 'o', æ: 'ae', œ: 'oe', ł: 'l', đ: 'd', ð: 'd', þ: 'th', ı: 'i', ħ: 'h', ŋ: 'n' }
/** Accents of Latin, Greek and Cyrillic, and Arabic vowel marks. Vowel signs of other scripts are letters and stay. */
const marks = /[\u0300-\u036f\u064b-\u065f\u0670]/gu

/** A name as somebody in a hurry reads it: no case, accents, hyphens or spaces that differ. */
export const plainName = (name: string): string =>
  name
    .normalize('NFKD')
    .replace(marks, '')
    .toLowerCase()
    .replace(/[ßøæœłđðþıħŋ]/gu, (letter) => spelled[letter] ?? letter)
    .replace(/[^\p{L}\p{N}\p{M}]+/gu, ' ')
    .trim()

/** Could the one be taken for the other: the same words in another order, or up to two letters apart (one, in a short or a very long name)? */
export const areLookAlikes = (one: Named, other: Named): boolean => formsAreAlike(formsOf(one), formsOf(other))

/** For each id, the ids of the others that could be taken for it; who has none is absent. */
export function lookAlikes<Id>(people: readonly (readonly [Id, Named])[]): Map<Id, Id[]> {
  const among = lookAlikesAmong(people)
  return new Map(
    people.flatMap(([id, person]) => {
      const others = among(person).filter((other) => other !== id)
      return others.length > 0 ? [[id, others] as const] : []
    }),
  )
}

/**
 * Looks somebody up among many: answers the ids of all who could be taken for them, in order. Two names at most two edits apart become one by
 * leaving out at most two letters of each, so each name is kept under all that it can become.
 */
export function lookAlikesAmong<Id>(people: readonly (readonly [Id, Named])[]): (person: Named) => Id[] {
  const forms = people.map(([, person]) => formsOf(person))
  const kept = new Map<string, number[]>()
  forms.forEach(({ inOrder, words }, index) => {
    for (const key of [...shortened(inOrder), `words ${words}`]) {
      const there = kept.get(key)
      if (there) there.push(index)
      else kept.set(key, [index])
    }
  })
  return (person) => {
    const mine = formsOf(person)
    const near = new Set<number>()
    for (const key of [...shortened(mine.inOrder), ...shortened(mine.swapped), `words ${mine.words}`]) {
      for (const index of kept.get(key) ?? []) near.add(index)
    }
    return [...near]
      .sort((one, other) => one - other)
      .filter((index) => formsAreAlike(mine, forms[index]!))
      .map((index) => people[index]![0])
  }
}

interface Forms {
  inOrder: string
  swapped: string
  words: string
}
function formsOf({ givenName, familyName }: Named): Forms {
  const inOrder = plainName(`${givenName} ${familyName}`)
  return { inOrder, swapped: plainName(`${familyName} ${givenName}`), words: inOrder.split(' ').sort().join(' ') }
}

const formsAreAlike = (one: Forms, other: Forms): boolean =>
  one.words === other.words || nearly(one.inOrder, other.inOrder) || nearly(one.swapped, other.inOrder)

function nearly(one: string, other: string): boolean {
  const [a, b] = [[...one], [...other]]
  return editsApart(a, b) <= editsAllowed(Math.max(a.length, b.length))
}

const veryLong = 60
const editsAllowed = (letters: number): number => (letters > veryLong || letters < 8 ? 1 : 2)

/** The name, and it with one and with two letters left out, as far as some other name may need. */
function shortened(name: string): Set<string> {
  const letters = [...name]
  const found = new Set([name])
  const rounds = letters.length > veryLong ? 1 : 2
  for (let round = 0, longer: Iterable<string> = [...found]; round < rounds; round++) {
    const shorter = new Set<string>()
    for (const each of longer) {
      const left = [...each]
      for (let at = 0; at < left.length; at++) shorter.add(left.toSpliced(at, 1).join(''))
    }
    for (const each of shorter) found.add(each)
    longer = shorter
  }
  return found
}

/** Letters put in, left out or exchanged. Further apart than 2 is said as 3. */
function editsApart(one: readonly string[], other: readonly string[]): number {
  if (Math.abs(one.length - other.length) > 2) return 3
  let row = other.map((_, index) => index + 1)
  for (const [line, letter] of one.entries()) {
    let before = line
    let left = line + 1
    row = row.map((above, index) => {
      const here = Math.min(above + 1, left + 1, before + (letter === other[index] ? 0 : 1))
      before = above
      left = here
      return here
    })
    if (Math.min(left, ...row) > 2) return 3
  }
  return row.at(-1) ?? one.length
}
