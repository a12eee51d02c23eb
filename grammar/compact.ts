/** Trees are held for whole files, so words that come again and again are one string, and lists have no room to grow. */

const MOST_WORDS = 10_000
const words = new Map<string, string>()

export function shared(text: string): string {
  const known = words.get(text)
  if (known !== undefined) return known
  if (words.size < MOST_WORDS && text.length <= 40) words.set(text, text)
  return text
}

/** The same list, without what `push` set aside for more. */
export const exact = <T>(list: readonly T[]): T[] => list.slice()
