/** The drawings are to scale: measured on the paper (one unit is one millimetre) they give the sizes of the job. */
import { describe, expect, it } from 'vitest'
import type { Door } from '../../../server/model/index.ts'
import { balanceChart } from '../../../server/report/drawings/chart.ts'
import { elevation } from '../../../server/report/drawings/elevation.ts'
import { floorMarks } from '../../../server/report/drawings/marks.ts'
import { section } from '../../../server/report/drawings/section.ts'
import { scaleFor } from '../../../server/report/drawings/svg.ts'
import { changed, FILE, JOB, serviceWith } from './job.ts'

const doorOf = (text: string): Door => serviceWith(text).doors(FILE)[0]!
const door = doorOf(JOB)
const IN = 25.4
interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}
const pair = (all: readonly Box[]): readonly [Box, Box] => {
  expect(all).toHaveLength(2)
  return [all[0]!, all[1]!]
}
const rects = (markup: string, kind: string): Box[] =>
  [
    ...markup.matchAll(
      new RegExp(`<rect class="${kind}" x="([-\\d.]+)" y="([-\\d.]+)" width="([\\d.]+)" height="([\\d.]+)"`, 'g'),
    ),
  ].map(m => {
    const [x, y, width, height] = m.slice(1).map(Number) as [number, number, number, number]
    return { x, y, width, height }
  })

describe('elevation', () => {
  const { drawing, scale } = elevation(door, 'e')!
  const one = (kind: string) => rects(drawing.markup, kind)[0]!

  it('has the opening, the rails, the drum and the coil in their sizes', () => {
    expect(one('opening-drawn').width * scale!).toBeCloseTo(144 * IN, 0)
    expect(one('opening-drawn').height * scale!).toBeCloseTo(138 * IN, 0)
    expect(one('drum-drawn').width * scale!).toBeCloseTo(152 * IN, 0)
    expect(one('drum-drawn').height * scale!).toBeCloseTo(6.625 * IN, 0)
    const [left, right] = pair(rects(drawing.markup, 'rail-drawn'))
    expect((right.x - (left.x + left.width)) * scale!).toBeCloseTo(145 * IN, 0)
    expect(left.width * scale!).toBeCloseTo(3.25 * IN, 0)
  })

  it('fits the paper at a scale that people know', () => {
    expect(Number(/viewBox="0 0 ([\d.]+) /.exec(drawing.markup)![1])).toBeLessThanOrEqual(186)
    expect(drawing.markup).toMatch(/style="width:[\d.]+mm"/)
    expect(scale).toBe(50)
    expect(scaleFor(1, 1, { width: 100, height: 100 })).toBe(10)
    expect(scaleFor(1.01, 1, { width: 100, height: 100 })).toBe(12)
    expect(scaleFor(2000, 1, { width: 100, height: 100 })).toBe(20_000)
  })

  it('has the adjuster on its side', () => {
    const at = (d: Door): number => Number(/<circle cx="([\d.]+)"/.exec(elevation(d, 'e')!.drawing.markup)![1])
    expect(at(door)).toBeGreaterThan(91)
    expect(at(doorOf(changed(['side    = right', 'side    = left'])))).toBeLessThan(91)
  })

  it('says beside the wall where the headroom ends', () => {
    const [x, width] = /<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)"[^>]*url\(#e-wall\)/.exec(drawing.markup)!.slice(1).map(Number) // biome-ignore format: one look
    const rows = ['headroom', 'ends here'].map(row =>
      new RegExp(`<text x="([\\d.]+)"[^>]*>${row}<`).exec(drawing.markup),
    )
    for (const row of rows) expect(Number(row![1])).toBeGreaterThan(x! + width!)
  })

  it('is left out where a size is not known', () => {
    expect(elevation(doorOf(changed(['    depth            = 3 1/4in\n', ''])), 'e')).toBeUndefined()
  })
})

describe('floor marks', () => {
  it('are as far from the jamb as the job says, to scale', () => {
    const { drawing, scale } = floorMarks(door, 'm')!
    const [left, right] = pair(rects(drawing.markup, 'rail-plan'))
    const walls = [...drawing.markup.matchAll(/<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)" height="15"/g)].map(
      m => [Number(m[1]), Number(m[2])] as const,
    )
    expect((walls[0]![0] + walls[0]![1] - (left.x + left.width)) * scale!).toBeCloseTo(0.5 * IN, 1)
    expect((right.x - walls[1]![0]) * scale!).toBeCloseTo(0.5 * IN, 1)
    expect(left.width * scale!).toBeCloseTo(3.25 * IN, 1)
  })
})

/** The points of the coil's line. */
const coils = (markup: string) =>
  [...markup.matchAll(/<path class="coil" d="M([^"]+)"/g)].map(m =>
    m[1]!.split('L').map(p => p.split(' ').map(Number) as [number, number]),
  )

describe('section', () => {
  // own: pipe 6.625 in, slats 7/8 in, half a turn of dead wraps
  const START = 6.625 / 2 + 0.875 * (0.5 + 0.5)
  const centre = (markup: string) =>
    [...markup.matchAll(/<circle cx="([\d.]+)" cy="([\d.]+)"/g)].map(m => [Number(m[1]), Number(m[2])] as const)

  it('draws the spiral of the job, closed and open', () => {
    const { drawing, scale } = section(door, 's')!
    const [closed, open] = coils(drawing.markup) as [[number, number][], [number, number][]]
    const [c1, c2] = centre(drawing.markup) as [readonly [number, number], readonly [number, number]]
    const radius = (p: readonly [number, number], c: readonly [number, number]): number =>
      (Math.hypot(p[0] - c[0], p[1] - c[1]) * scale!) / IN
    expect(radius(closed[0]!, c1)).toBeCloseTo(START, 2)
    const inner = 6.625 / 2 + 0.875 / 2
    expect(radius(closed.at(-1)!, c1)).toBeCloseTo(inner, 2)
    expect(radius(open.at(-1)!, c2)).toBeCloseTo(inner, 2)
    const turns = door.number('drum.turns')! / (2 * Math.PI)
    expect(radius(open[0]!, c2)).toBeCloseTo(START + 0.875 * turns, 2)
    const turned = (points: readonly (readonly [number, number])[], c: readonly [number, number]): number =>
      points.slice(1).reduce((sum, p, i) => {
        const q = points[i]!
        const step = Math.atan2(p[1] - c[1], p[0] - c[0]) - Math.atan2(q[1] - c[1], q[0] - c[0])
        return sum + Math.atan2(Math.sin(step), Math.cos(step))
      }, 0) /
      (2 * Math.PI)
    // minus: on paper, counterclockwise; the curtain goes up and over the way that the drum raises it
    expect(turned(closed, c1)).toBeCloseTo(-0.5, 3)
    expect(turned(open, c2)).toBeCloseTo(-(0.5 + turns), 3)
  })

  it.each([
    ['right', 'wall_side', 'right', 1],
    ['left', 'wall_side', 'left', -1],
    ['right', 'room_side', 'left', -1],
    ['left', 'room_side', 'right', 1],
  ])('adjuster %s, %s: it hangs on the %s', (side, leaves, _, sign) => {
    const markup = section(
      doorOf(
        changed(
          ['side    = right', `side    = ${side}`],
          ['span       = 12ft 8in', `span = 12ft 8in; leaves = ${leaves}`],
        ),
      ),
      's',
    )!.drawing.markup
    const [closed] = coils(markup)
    const [c1] = centre(markup)
    expect(Math.sign(closed![0]![0] - c1![0])).toBe(sign)
    expect(closed![1]![1]).toBeLessThan(closed![0]![1])
    const wall = Number(/<rect x="([\d.]+)"[^>]*url\(#s-cut\)/.exec(markup)![1])
    expect(wall > c1![0]).toBe(side === 'right')
  })
})

describe('balance chart', () => {
  const markup = balanceChart(door)!.markup
  const points = (kind: string) => /class="KIND" d="M([^"]+)"/.source.replace('KIND', kind)
  const curve = (kind: string) =>
    new RegExp(points(kind))
      .exec(markup)![1]!
      .split('L')
      .map(p => p.split(',').map(Number) as [number, number])
  /** Torque at a height of the paper, read from two labels of the axis. */
  const labels = [...markup.matchAll(/<text x="22.5" y="([\d.]+)"[^>]*>(\d+)<\/text>/g)].map(
    m => [Number(m[1]) - 1.2, Number(m[2])] as const,
  )
  const torque = (y: number): number => {
    const [a, b] = [labels[0]!, labels.at(-1)!]
    return a[1] + ((y - a[0]) / (b[0] - a[0])) * (b[1] - a[1])
  }
  const LBF_IN = 4.4482216152605 * 0.0254
  const within = (a: number, b: number, tolerance: number) => expect(Math.abs(a - b)).toBeLessThan(tolerance)

  it('runs from what the closed door asks for to what the open one does, in lbf*in', () => {
    const asks = curve('asks')
    within(torque(asks[0]![1]), door.number('balance.torque_closed')! / LBF_IN, 3)
    within(torque(asks.at(-1)![1]), door.number('balance.torque_open')! / LBF_IN, 3)
    expect(markup).toContain('torque at the drum, lbf*in')
    expect(asks[0]![0]).toBe(24)
  })

  it('has the springs at their rate times preload, and preload and turns', () => {
    const gives = curve('gives')
    const rate = door.number('balance.rate')!
    within(torque(gives.at(-1)![1]), (rate * door.number('adjuster.preload')!) / LBF_IN, 3)
    within(torque(gives[0]![1]), (rate * (door.number('adjuster.preload')! + door.number('drum.turns')!)) / LBF_IN, 3)
  })

  it('marks the worst place with its torque between the two curves', () => {
    const [, x, y1, , y2] = /<g class="worst"><line x1="([\d.]+)" y1="([\d.]+)" x2="([\d.]+)" y2="([\d.]+)"/
      .exec(markup)!
      .map(Number) as number[]
    within(Math.abs(torque(y1!) - torque(y2!)), door.number('balance.worst')! / LBF_IN, 5)
    within((x! - 24) / (172 - 24), door.number('balance.worst_at')! / door.number('height')!, 0.001)
  })

  it.each([JOB, changed(['preload = 1 3/4 turns', 'preload = 3/4 turns'])])(
    'has no line of the grid behind the label at the worst place',
    text => {
      const drawn = balanceChart(doorOf(text))!.markup
      const [, before, , x, y, width, height] = /^(.*)(<rect class="behind" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)")/s.exec(drawn)! // biome-ignore format: one look
      const rows = [
        ...drawn.matchAll(/<text x="([\d.]+)" y="([\d.]+)" font-size="([\d.]+)"[^>]*paint-order[^>]*>/g),
      ].map(m => m.slice(1).map(Number))
      expect(rows).toHaveLength(2)
      for (const [tx, ty, size] of rows) {
        expect(tx).toBeGreaterThan(Number(x))
        expect(tx).toBeLessThan(Number(x) + Number(width))
        expect(ty! - size! * 0.8).toBeGreaterThan(Number(y))
        expect(ty).toBeLessThan(Number(y) + Number(height))
      }
      // the grid lies below it, the curves above
      expect(before!.match(/stroke-width="0.12"/g)).toEqual(drawn.match(/stroke-width="0.12"/g))
      expect(before).not.toContain('class="asks"')
    },
  )

  it('is in N*m and mm for a metric job, and left out without springs', () => {
    const metric = balanceChart(doorOf(changed(['imperial', 'metric'])))!.markup
    expect(metric).toContain('torque at the drum, N*m')
    expect(metric).toContain('bottom bar above the floor, mm')
    expect(balanceChart(doorOf(changed(['holes   = 8', 'hole = 8'], ['coils    = 160', 'coil = 160'])))).toBeUndefined()
  })

  it('tells the two curves apart without colour', () => {
    expect(markup).toMatch(/class="gives"[^>]*stroke-dasharray/)
    expect(markup).not.toMatch(/class="asks"[^>]*stroke-dasharray/)
    expect([...markup.matchAll(/(?:stroke|fill)="(#[0-9a-f]+)"/g)].every(m => ['#000', '#fff'].includes(m[1]!))).toBe(
      true,
    )
  })
})
