import type { ComponentChildren } from 'preact'
import type { Case } from '@musterbook/vocabulary/case'
import { staffName } from '../supervisor/who.ts'
import type { Desk } from './desk.ts'

/** What each part of a case is given. */
export interface CasePart {
  desk: Desk
  one: Case
  /** Reads the case again after something was told. */
  onTold: () => void
}

export const Part = ({ title, children }: { title: string; children: ComponentChildren }) => (
  <section class="sheet stack" aria-label={title}>
    <h3>{title}</h3>
    {children}
  </section>
)

export const staff = (desk: Desk, personId: string): string => staffName(desk.house, personId)
