/** What `survey_width` and `survey_height` have in common: measured sizes against the written one. */
import { sizeLimit } from '../mechanics/index.ts'
import { over } from './compare.ts'
import type { Door, Report } from './rule.ts'

/**
 * Reports each measured size that differs from the written one by more than `limits.opening_size`; where that is not set,
 * by more than DIN 18202 table 1 allows, which has nothing beyond 6 m.
 * @param size `width` or `height`, with its measurements in the block of the survey of the same name
 * @param spots each measurement with its place in words: `{ bottom: 'at the floor (bottom)' }`
 */
export function compareSizes(
  door: Door,
  report: (r: Report) => void,
  size: 'width' | 'height',
  spots: Readonly<Record<string, string>>,
): void {
  const nominal = door.number(size)
  if (nominal === undefined) return
  const limit = door.number('limits.opening_size') ?? sizeLimit(nominal)
  for (const [name, where] of Object.entries(spots)) {
    const path = `survey.${size}.${name}`
    const measured = door.number(path)
    if (measured === undefined || !over(Math.abs(measured - nominal), limit)) continue
    const allowed = door.say(limit!, 'limits.opening_size')
    const difference = `${door.say(Math.abs(measured - nominal), 'limits.opening_size')} ${measured > nominal ? 'more' : 'less'}`
    report({
      message: `The ${size} measured ${where} is ${door.show(path)}, ${difference} than the ${door.show(size)} written; ${allowed} is allowed. Measure again, then have the opening put right or write the job for what is there.`,
      at: path,
      limit: `${allowed} or less, either way`,
      related: [{ at: size, message: `the ${size} written is ${door.show(size)}` }],
    })
  }
}
