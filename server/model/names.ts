/** Names that are near to one that is not known. */
import { distance } from 'fastest-levenshtein'

/**
 * The names that were probably meant, the nearest first: at most three, and only where the slip is small for the
 * length of the name (one letter in three), so that a suggestion is nearly always right.
 */
export function nearestNames(name: string, candidates: Iterable<string>): string[] {
  const lower = name.toLowerCase()
  const most = Math.max(1, Math.floor(lower.length / 3))
  const near: { name: string; far: number }[] = []
  for (const candidate of new Set(candidates)) {
    if (Math.abs(candidate.length - lower.length) > most) continue
    const plain = candidate.toLowerCase()
    const far = transposed(lower, plain) ? 1 : distance(lower, plain)
    if (far <= most) near.push({ name: candidate, far })
  }
  near.sort((a, b) => a.far - b.far || (a.name < b.name ? -1 : 1))
  return near
    .filter(n => n.far <= near[0]!.far + 1)
    .slice(0, 3)
    .map(n => n.name)
}

/** Two neighbouring letters changed places: the commonest slip of all. */
function transposed(a: string, b: string): boolean {
  if (a.length !== b.length) return false
  let i = 0
  while (i < a.length && a[i] === b[i]) i++
  return a[i] === b[i + 1] && a[i + 1] === b[i] && a.slice(i + 2) === b.slice(i + 2)
}
