import type { ComponentChildren } from 'preact'
import { Button } from '../parts/button/button.tsx'

interface RowAct {
  says: string
  /** With the row's own name, for whoever hears the button alone. */
  label: string
  onPress: () => void
}

/** The last column of a register, for those who may change it; none for the rest. */
export function rowActs<Row>(
  mayChange: boolean,
  head: string,
  acts: (row: Row) => readonly RowAct[],
): { key: string; head: string; cell: (row: Row) => ComponentChildren }[] {
  if (!mayChange) return []
  const cell = (row: Row) => (
    <span class="office-acts">
      {acts(row).map(({ says, label, onPress }) => (
        <Button key={says} size="small" label={label} onPress={onPress}>
          {says}
        </Button>
      ))}
    </span>
  )
  return [{ key: 'edit', head, cell }]
}
