import type { Proposal } from './protocol.ts'

/** A proposal as a row of two lines. Both are cut off at the end where they are long: what it is chosen by comes first. */
export function rowOf({ rows, against }: Proposal): { readonly label: string; readonly detail: string } {
  const of = (name: string): string => rows.find(r => r[0] === name)?.[1] ?? ''
  const [out, ideal] = of('worst out of balance').split(/ \(|\)/)
  const increments = of('preload').replace(/^.*, /, '')
  const breaks = against.length > 0 ? `would still break: ${against.join(', ')}` : ''
  return {
    label: `${breaks ? '$(warning)' : '$(pass)'} ${joined([increments, `out of balance by ${out}`, `stress ${of('stress ratio')}`])}`,
    detail: joined([
      breaks,
      of('pipe'),
      of('springs'),
      `life ${of('life')}`,
      of('weight of wire'),
      of('length'),
      ideal,
    ]),
  }
}

const joined = (parts: readonly (string | undefined)[]): string => parts.filter(p => p).join(' · ')
