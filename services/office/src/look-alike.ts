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

/** Could the one be taken for the other: the same words in another order, or up to two letters apart (one, in a short name)? */
export function areLookAlikes(one: Named, other: Named): boolean {
  const [a, b] = [inOrder(one), inOrder(other)]
  return nearly(a, b) || nearly(a, swapped(other)) || words(a) === words(b)
}

/** For each id, the ids of the others that could be taken for it; who has none is absent. */
export function lookAlikes<Id, Person extends Named>(people: readonly (readonly [Id, Person])[]): Map<Id, Id[]> {
  const found = new Map<Id, Id[]>()
  const note = (id: Id, other: Id) => found.set(id, [...(found.get(id) ?? []), other])
  people.forEach(([id, person], index) => {
    for (const [otherId, other] of people.slice(index + 1)) {
      if (!areLookAlikes(person, other)) continue
      note(id, otherId)
      note(otherId, id)
    }
  })
  return found
}

const inOrder = ({ givenName, familyName }: Named): string => plainName(`${givenName} ${familyName}`)
const swapped = ({ givenName, familyName }: Named): string => plainName(`${familyName} ${givenName}`)
const words = (plain: string): string => plain.split(' ').sort().join(' ')

function nearly(one: string, other: string): boolean {
  const longer = Math.max([...one].length, [...other].length)
  return editsApart([...one], [...other]) <= Math.max(1, Math.min(2, Math.floor(longer / 4)))
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
