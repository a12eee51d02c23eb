/** Statements as they are taken out: with their line. */
import type { Place } from '../model/index.ts'

/** A statement with the line it stands on, where it stands there alone. */
export function wholeLine(place: Place): Place {
  const text = place.chunk.text
  let start = place.start
  while (start > 0 && (text[start - 1] === ' ' || text[start - 1] === '\t')) start--
  let end = place.end
  while (end < text.length && (text[end] === ' ' || text[end] === '\t')) end++
  const alone = (start === 0 || /[\r\n]/.test(text[start - 1]!)) && (end === text.length || /[\r\n]/.test(text[end]!))
  if (!alone) {
    // one of several on a line: take the separator along
    const after = text.slice(place.end).match(/^[ \t]*;[ \t]*/)
    if (after) return { ...place, end: place.end + after[0].length }
    const before = text.slice(0, place.start).match(/[ \t]*;[ \t]*$/)
    return before ? { ...place, start: place.start - before[0].length } : place
  }
  if (text.startsWith('\r\n', end)) end += 2
  else if (end < text.length) end += 1
  return { ...place, start, end }
}
