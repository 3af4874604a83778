import { briefingWords } from '@musterbook/stations/briefing-words'
import type { Protocol } from '@musterbook/stations/protocol'
import type { Language } from '@musterbook/vocabulary/people'

/** One test, made from its protocol. Its sentences are shown as they were adopted, the headings in the class's language. */
export function TestPage({ protocol, language }: { protocol: Protocol; language: Language }) {
  const say = briefingWords[language]
  return (
    <article class="briefing-test" lang={language} dir={language === 'ar' ? 'rtl' : 'ltr'} aria-labelledby="test">
      <h2 id="test" lang="en" dir="auto">
        {protocol.name}
      </h2>
      <p class="briefing-measures" lang="en" dir="auto">
        {protocol.measures}
      </p>
      <div class="briefing-columns">
        <section>
          <h3>{say.steps}</h3>
          <ol lang="en" dir="ltr">
            {protocol.steps.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ol>
        </section>
        <div class="stack">
          <section>
            <h3>{say.tries}</h3>
            <p>
              {say.triesAre(protocol.tries, say.counts[protocol.official])}
              {protocol.minimumRestMs > 0 && ` ${say.rest(Math.round(protocol.minimumRestMs / 60_000))}`}
            </p>
          </section>
          <Lines title={say.voids} lines={protocol.voids} />
        </div>
      </div>
      <section class="briefing-stop">
        <h3>{say.stopWhen}</h3>
        <ul lang="en" dir="ltr">
          {protocol.stopWhen.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
        <p>
          <strong>{say.tell}</strong> <bdi lang="en">{protocol.tellWhom}</bdi>
        </p>
        <p>{say.atAnyTime}</p>
      </section>
      <Lines title={say.cautions} lines={protocol.cautions} />
      <p class="quiet">
        <bdi lang="en">{`${protocol.protocolId} · ${protocol.version} · ${protocol.source}`}</bdi>
        {protocol.invented && ` · ${say.invented}`}
      </p>
    </article>
  )
}

function Lines({ title, lines }: { title: string; lines: readonly string[] }) {
  return (
    <section>
      <h3>{title}</h3>
      <ul lang="en" dir="ltr">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  )
}
