import type { Page } from 'playwright-core'

/** Outdoors values and states stand in the sun, and so does every other word; indoors WCAG's enhanced contrast (1.4.6). */
export const leastContrast = { indoor: 7, outdoor: 15 } as const

/** Words whose colour stands out from what is behind them by less than the ratio (WCAG 2.2, contrast ratio), as they are computed. */
export const tooFaint = (page: Page, least: number): Promise<string[]> =>
  page.evaluate((least) => {
    const canvas = new OffscreenCanvas(1, 1).getContext('2d', { willReadFrequently: true })!
    const rgba = (colour: string) => {
      canvas.clearRect(0, 0, 1, 1)
      canvas.fillStyle = colour
      canvas.fillRect(0, 0, 1, 1)
      return [...canvas.getImageData(0, 0, 1, 1).data]
    }
    const luminance = (colour: number[]) => {
      const [red = 0, green = 0, blue = 0] = colour.map((part) =>
        part / 255 <= 0.04045 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4,
      )
      return 0.2126 * red + 0.7152 * green + 0.0722 * blue
    }
    const behind = (element: Element | null): number[] => {
      for (let one = element; one; one = one.parentElement) {
        const colour = rgba(getComputedStyle(one).backgroundColor)
        if (colour[3] === 255) return colour
      }
      return [255, 255, 255, 255]
    }
    const found = new Set<string>()
    for (const element of document.querySelectorAll('body *')) {
      const text = [...element.childNodes]
        .filter((node) => node.nodeType === Node.TEXT_NODE)
        .map((node) => node.textContent?.trim())
        .join('')
      if (text === '' || !element.checkVisibility({ opacityProperty: true, visibilityProperty: true })) continue
      const box = element.getBoundingClientRect()
      if (box.width <= 1 || box.height <= 1) continue
      const [dark = 0, light = 0] = [luminance(rgba(getComputedStyle(element).color)), luminance(behind(element))].sort((a, b) => a - b)
      const ratio = (light + 0.05) / (dark + 0.05)
      if (ratio < least) found.add(`${ratio.toFixed(1)} ${element.tagName}.${element.className} ${text.slice(0, 50)}`)
    }
    return [...found]
  }, least)
