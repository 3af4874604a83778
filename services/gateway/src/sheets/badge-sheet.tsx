import { encodeQR } from 'qr'
import type { Role } from '@musterbook/vocabulary/people'

interface Props {
  siteName: string
  badges: readonly { name: string; roles: readonly Role[]; badge: string }[]
}

const roleNames: Record<Role, string> = {
  kiosk: 'Kiosk',
  greeter: 'Greeter',
  screener: 'Medical screener',
  station: 'Station staff',
  safety: 'Safety officer',
  supervisor: 'Supervisor',
  coordinator: 'Coordinator',
  auditor: 'Auditor',
  device: 'Device',
}

/** Badges of the size of a bank card, to cut out: eight a page. */
export function BadgeSheet({ siteName, badges }: Props) {
  return (
    <>
      <h1>Staff badges</h1>
      <p>
        A badge chooses a name at the sign-on, by a hand scanner or a camera. It is no secret and proves nobody: the PIN is asked all the
        same. Is one lost, the coordinator makes another in the office, under People; the lost one chooses nobody from then on.
      </p>
      <div class="badges">
        {badges.map(({ name, roles, badge }) => (
          <section class="badge" key={badge} aria-label={name}>
            <p class="badge-site">{siteName}</p>
            <div class="badge-who">
              <h2>{name}</h2>
              <p>{roles.map((role) => roleNames[role]).join(', ')}</p>
            </div>
            <figure>
              <div role="img" aria-label={`Code ${badge}`} dangerouslySetInnerHTML={{ __html: encodeQR(badge, 'svg', { ecc: 'high' }) }} />
              <figcaption>{badge}</figcaption>
            </figure>
            <p class="badge-foot">Chooses a name and proves nobody: the PIN is asked.</p>
          </section>
        ))}
      </div>
    </>
  )
}
