import type { PinnedEmergencyCard } from '@musterbook/vocabulary/emergency-card'
import { emergencyCardWords } from '../../words/emergency-card.ts'
import { spokenLanguage } from '../../words/languages.ts'
import { standingApart } from '../../words/standing-apart.ts'
import './emergency-card.css'

export interface EmergencyCardProps {
  /** null: nobody entered one. */
  card: PinnedEmergencyCard | null
  /** The edition that the day pinned, where a newer one is shown; null: it pinned none. Left out: what is shown is what it pinned. */
  pinned?: string | null | undefined
  nameOf: (personId: string) => string
  onPrint?: string | undefined
}

/** What the site's own people wrote for an emergency, unedited, with who wrote it and when. */
export function EmergencyCard({ card, pinned, nameOf, onPrint }: EmergencyCardProps) {
  const say = standingApart(emergencyCardWords[spokenLanguage.value])
  if (!card)
    return (
      <div class="emergency-card" role="alert">
        <p class="emergency-first">
          {say.none}. {say.noneDo}
        </p>
        <p>{say.noneThen}</p>
      </div>
    )
  return (
    // Longer than the screen, it is scrolled by keys as well.
    <div class="emergency-card" role="group" aria-label={say.title} tabIndex={0}>
      {pinned !== undefined && <p role="status">{pinned === null ? say.since : say.pinned(pinned)}</p>}
      <div class="emergency-heads">
        <section>
          <h3>{say.doFirst}</h3>
          <p class="emergency-first" dir="auto">
            {card.doFirst}
          </p>
        </section>
        <section>
          <h3>{say.call}</h3>
          <p class="emergency-call figures" dir="auto">
            {card.call}
          </p>
        </section>
      </div>
      <div class="emergency-parts">
        <Part title={say.meetingPoint} says={card.meetingPoint} />
        <Part title={say.equipment} says={card.equipment} />
        <Part title={say.address} says={card.address} />
        <Part title={say.hospital} says={card.hospital} />
        {card.cooling !== null && <Part title={say.cooling} says={card.cooling} />}
      </div>
      <p>
        <strong>{say.written(card.writtenBy, card.writtenOn)}.</strong>{' '}
        {say.adopted(card.edition, nameOf(card.proposedBy), nameOf(card.adoptedBy), card.adoptedOn)}. {say.own}
      </p>
      {onPrint !== undefined && (
        <p>
          <a class="button" href={onPrint} target="_blank" rel="noreferrer">
            {say.print}
          </a>
        </p>
      )}
    </div>
  )
}

function Part({ title, says }: { title: string; says: string }) {
  return (
    <section>
      <h3>{title}</h3>
      <p dir="auto">{says}</p>
    </section>
  )
}
