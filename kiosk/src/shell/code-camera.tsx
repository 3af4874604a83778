import { useEffect, useRef } from 'preact/hooks'
import { Button } from '../parts/button/button.tsx'
import { words } from '../words/words.ts'
import './code-camera.css'

interface Props {
  help: string
  /** Codes that hold much are finer: the whole picture is looked at, and a sharper one asked for. */
  fine?: boolean
  onCode: (code: string) => void
  onNone: () => void
  /** None where what stands around it closes it. */
  onClose?: () => void
}

/** Looks for a QR code in what the camera sees. Nothing of the picture is kept or sent. */
export function CodeCamera({ help, fine = false, onCode, onNone, onClose }: Props) {
  const video = useRef<HTMLVideoElement>(null)
  useEffect(() => {
    let stream: MediaStream | undefined
    let timer: ReturnType<typeof setInterval> | undefined
    let closed = false
    const open = async () => {
      const { default: decode } = await import('qr/decode.js')
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment', ...(fine && { width: { ideal: 1280 } }) } })
      if (closed || !video.current) return stop()
      video.current.srcObject = stream
      await video.current.play()
      timer = setInterval(() => {
        const seen = video.current && pictureOf(video.current, fine ? 1 : 2)
        const code = seen && decoded(decode, seen)
        if (code) onCode(code)
      }, 200)
    }
    const stop = () => {
      closed = true
      clearInterval(timer)
      for (const track of stream?.getTracks() ?? []) track.stop()
    }
    open().catch(() => {
      if (!closed) onNone()
    })
    return stop
  }, [])

  return (
    <div class="code-camera stack">
      <p id="camera-help">{help}</p>
      <video ref={video} class="code-camera-picture" aria-labelledby="camera-help" muted playsInline />
      {onClose && <Button onPress={onClose}>{words.shell.closeCamera}</Button>}
    </div>
  )
}

/** Half the size is enough for a card at arm's length, and four times as quick. */
function pictureOf(video: HTMLVideoElement, part: 1 | 2): ImageData | undefined {
  const [width, height] = [Math.floor(video.videoWidth / part), Math.floor(video.videoHeight / part)]
  if (width === 0 || height === 0) return undefined
  const canvas = new OffscreenCanvas(width, height)
  const drawing = canvas.getContext('2d', { willReadFrequently: true })
  drawing?.drawImage(video, 0, 0, width, height)
  return drawing?.getImageData(0, 0, width, height)
}

/** The decoder throws where it finds no code. */
function decoded(decode: (picture: ImageData) => string, picture: ImageData): string | undefined {
  try {
    return decode(picture)
  } catch {
    return undefined
  }
}
