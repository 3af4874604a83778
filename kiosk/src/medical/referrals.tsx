import type { ReferralId } from '@musterbook/vocabulary/ids'
import { Button } from '../parts/button/button.tsx'
import { newId, tell } from '../shell/shell.tsx'
import { wallClock } from '../words/figures.ts'
import { words } from '../words/words.ts'
import type { About } from './student-file.tsx'

/** Every referral of today with its outcome; an open one is answered here. */
export function Referrals({ house, student, studentId, who }: About) {
  const zone = house.day.value?.timeZone ?? 'UTC'
  const refer = (to: 'clinician' | 'ambulance') =>
    void tell(house, words.medical.referredSaid(who), 'refer', { referralId: newId('referral') as ReferralId, studentId, to })
  return (
    <>
      {student.referrals.map(({ referralId, to, at, outcome }) => (
        <section key={referralId} class="stack medical-referral" aria-label={words.medical.referred}>
          <h3 class="figures">{words.medical.referralTitle(words.medical.referredTo[to] ?? to, wallClock(at, zone))}</h3>
          {outcome ? (
            <p>{words.medical.outcomes[outcome] ?? outcome}</p>
          ) : (
            <>
              <p>{words.medical.answerHelp}</p>
              <div class="row">
                {(
                  [
                    ['cleared', words.medical.answerCleared],
                    ['limited', words.medical.answerLimited],
                    ['notToday', words.medical.answerNotToday],
                  ] as const
                ).map(([said, says]) => (
                  <Button
                    key={said}
                    onPress={() =>
                      void tell(house, words.medical.answered(who), 'answerReferral', {
                        referralId: referralId as ReferralId,
                        studentId,
                        outcome: said,
                      })
                    }
                  >
                    {says}
                  </Button>
                ))}
              </div>
            </>
          )}
        </section>
      ))}
      {(student.stop !== null || student.referrals.some(({ outcome }) => outcome === null)) && (
        <section class="stack" aria-labelledby="refer-on">
          <h3 id="refer-on">{words.medical.referOn}</h3>
          <div class="row">
            {(['clinician', 'ambulance'] as const).map((to) => (
              <Button key={to} onPress={() => refer(to)}>
                {words.medical.referOnTo(words.medical.referredTo[to] ?? to)}
              </Button>
            ))}
          </div>
        </section>
      )}
    </>
  )
}
