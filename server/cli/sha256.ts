/** The SHA-256 of texts. */
import { createHash } from 'node:crypto'

export const sha256 = (...parts: readonly string[]): string => {
  const hash = createHash('sha256')
  // the length first, so that no two lists of parts come to the same bytes
  for (const part of parts) hash.update(`${part.length} `).update(part)
  return hash.digest('hex')
}
