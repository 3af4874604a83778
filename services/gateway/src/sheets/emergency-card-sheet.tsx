import type { PinnedEmergencyCard } from '@musterbook/vocabulary/emergency-card'

interface Props {
  card: PinnedEmergencyCard
  siteName: string
  /** Names of the two who adopted it. */
  adoptedBy: readonly string[]
}

/** One page to hang up: what the site's own people wrote, unedited, with who wrote it and when. */
export function EmergencyCardSheet({ card, siteName, adoptedBy }: Props) {
  return (
    <article class="emergency-card">
      <h1>Emergency card, {siteName}</h1>
      <h2>What to do first</h2>
      <p class="first">{card.doFirst}</p>
      <h2>Phone and radio</h2>
      <p class="call">{card.call}</p>
      <div class="columns">
        <Part title="Where this is" says={card.address} />
        <Part title="Where the ambulance is met" says={card.meetingPoint} />
        <Part title="Where things are" says={card.equipment} />
        <Part title="Nearest hospital" says={card.hospital} />
      </div>
      {card.cooling !== null && <Part title="Cooling, as the clinician wrote it" says={card.cooling} />}
      <p>
        <strong>
          Written by {card.writtenBy}, {card.writtenOn}.
        </strong>{' '}
        Edition {card.edition}, adopted by {adoptedBy.join(' and ')}, {card.adoptedOn}. The words are the site’s own and are shown unedited.
      </p>
    </article>
  )
}

function Part({ title, says }: { title: string; says: string }) {
  return (
    <section>
      <h2>{title}</h2>
      <p>{says}</p>
    </section>
  )
}
