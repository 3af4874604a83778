import { render } from 'preact-render-to-string'

/** The screens, in the order in which a day meets them. */
export const screens = {
  'set-up': 'Set-up: the site and its coordinator, once',
  office: 'Office: people, devices, venue, rosters, rules',
  'check-in': 'Check-in kiosk',
  medical: 'Medical',
  'weigh-in': 'Weigh-in desk',
  briefing: 'Briefing',
  floor: 'Floor: warm-up and queues',
  station: 'Station',
  run: 'Run',
  safety: 'Safety officer',
  board: 'Public board',
  paper: 'Paper: sheets to print, and what stands on them typed in',
  carried: 'Carried: what a tablet cannot send itself',
  supervisor: 'Supervisor',
  replay: 'Replay and cases',
  records: 'Records over the years',
} as const
export type Screen = keyof typeof screens

/** Where somebody lands who knows the address and nothing else. */
export function startPage({ setUpNeeded, rehearsal }: { setUpNeeded: boolean; rehearsal: boolean }): string {
  const shown = Object.entries(screens).filter(([screen]) => (screen === 'set-up') === setUpNeeded)
  return (
    '<!doctype html>' +
    render(
      <html lang="en">
        <head>
          <meta charset="utf-8" />
          <meta name="viewport" content="width=device-width, initial-scale=1" />
          <title>Musterbook</title>
          <link rel="icon" href="/favicon.svg" type="image/svg+xml" />
          <link rel="stylesheet" href="/sheets/sheet.css" />
        </head>
        <body>
          <main>
            {rehearsal && <p class="rehearsal">Rehearsal: not a real record</p>}
            <h1>Musterbook</h1>
            <p>Runs a physical-fitness test day and keeps its record.</p>
            {setUpNeeded && <p>Nothing is set up yet. The place where this server was started shows a one-time code.</p>}
            <ul class="screens">
              {shown.map(([screen, says]) => (
                <li key={screen}>
                  <a href={`/${screen}`}>{says}</a>
                </li>
              ))}
            </ul>
          </main>
          <footer>
            <p>Follow local policy and the judgement of licensed clinicians; in an emergency act first and record later.</p>
          </footer>
        </body>
      </html>,
    )
  )
}
