import { words } from '../../words/words.ts'
import './face.css'

export interface FaceProps {
  /** The same seed always draws the same face. */
  seed: string
  /** Whose it is. Left out where the name stands beside it: then it is not spoken. */
  name?: string | undefined
}

/** A drawn face for people who do not exist: plain shapes, and no likeness of anybody. */
export function Face({ seed, name }: FaceProps) {
  const pick = picker(seed)
  const ground = pick(grounds)
  const skin = pick(skins)
  const hair = pick(hairs)
  const shape = pick(['round', 'long', 'square'] as const)
  const hairStyle = pick(['short', 'side', 'bun', 'curls', 'long', 'bare', 'cap'] as const)
  const eyes = pick([34, 37, 40] as const)
  const mouth = pick(['M40 66q10 7 20 0', 'M41 67h18', 'M40 65q10 10 20 0', 'M42 67q9 4 17-1'] as const)
  const glasses = pick([true, false, false, false] as const)
  const freckles = pick([true, false, false] as const)
  const jersey = pick(jerseys)
  const width = { round: 24, long: 21, square: 23 }[shape]
  const height = { round: 25, long: 29, square: 25 }[shape]

  return (
    <svg
      class="face"
      viewBox="0 0 100 100"
      role={name ? 'img' : 'presentation'}
      aria-label={name && words.student.face(name)}
      focusable="false"
    >
      <rect width="100" height="100" fill={ground} />
      <path d="M14 100c2-20 16-26 36-26s34 6 36 26z" fill={jersey} />
      <path d="M42 66h16v12q-8 6-16 0z" fill={skin} />
      {hairStyle === 'long' && <path d="M22 84V46q0-28 28-28t28 28v38q-10 2-14-6H36q-4 8-14 6z" fill={hair} />}
      <ellipse cx={50 - width} cy="54" rx="4" ry="6" fill={skin} />
      <ellipse cx={50 + width} cy="54" rx="4" ry="6" fill={skin} />
      {shape === 'square' ? (
        <rect x={50 - width} y={52 - height} width={width * 2} height={height * 2} rx="15" fill={skin} />
      ) : (
        <ellipse cx="50" cy="52" rx={width} ry={height} fill={skin} />
      )}
      <Hair style={hairStyle} fill={hair} width={width} />
      <g class="face-lines">
        <path d={`M${eyes - 5} 46q5-4 9-1M${100 - eyes + 5} 46q-5-4-9-1`} />
        <path d="M50 53v6q-1 2-4 2" />
        <path d={mouth} />
      </g>
      <circle cx={eyes} cy="52" r="2.6" class="face-eye" />
      <circle cx={100 - eyes} cy="52" r="2.6" class="face-eye" />
      {freckles && <path class="face-freckles" d="M37 60h.1M40 62h.1M34 62h.1M60 60h.1M63 62h.1M66 60h.1" />}
      {glasses && (
        <g class="face-lines">
          <circle cx={eyes} cy="52" r="7.5" />
          <circle cx={100 - eyes} cy="52" r="7.5" />
          <path d={`M${eyes + 7.5} 52h${100 - 2 * eyes - 15}`} />
        </g>
      )}
    </svg>
  )
}

function Hair({ style, fill, width }: { style: string; fill: string; width: number }) {
  const left = 50 - width - 1
  const right = 50 + width + 1
  if (style === 'bare') return null
  if (style === 'cap') return <path d={`M${left} 42q2-22 ${50 - left}-22t${right - 50} 22l12 3q-2 4-10 2H${left}z`} fill={fill} />
  return (
    <>
      {style === 'bun' && <circle cx="50" cy="18" r="10" fill={fill} />}
      {style === 'curls' &&
        [28, 38, 50, 62, 72].map((x, i) => <circle key={x} cx={x} cy={[36, 26, 23, 26, 36][i] ?? 30} r="10" fill={fill} />)}
      <path
        d={
          style === 'side'
            ? `M${left} 50q-2-30 ${50 - left}-30t${right - 50} 30q-4-14-14-18q-18 4-30-2q-10 6-14 20z`
            : `M${left} 48q-1-28 ${50 - left}-28t${right - 50} 28q-4-12-10-15q-15-4-30 0q-6 3-10 15z`
        }
        fill={fill}
      />
    </>
  )
}

const grounds = ['#cfdcd8', '#dcd6c4', '#c9d3df', '#d9cfd6', '#d3dbc4', '#e0d0c2'] as const
const skins = ['#f1cfb3', '#e3b08a', '#c98d62', '#a86d45', '#7d4d30', '#5c3824', '#efc19f', '#d49f77'] as const
const hairs = ['#221a16', '#3d2a1d', '#6b4425', '#9a6a33', '#c79a52', '#7a7a78', '#8c3b1e', '#14181f'] as const
const jerseys = ['#12363d', '#7a2f22', '#3c4a2a', '#4b3560', '#8a5a12', '#2c4668'] as const

/** Draws choices from a seed with a small integer hash (FNV-1a, then xorshift): the same on every engine. */
function picker(seed: string): <T>(from: readonly [T, ...T[]]) => T {
  let state = 0x811c9dc5
  for (let i = 0; i < seed.length; i++) state = Math.imul(state ^ seed.charCodeAt(i), 0x01000193) >>> 0
  return (from) => {
    state ^= state << 13
    state ^= state >>> 17
    state = (state ^ (state << 5)) >>> 0
    return from[state % from.length] ?? from[0]
  }
}
