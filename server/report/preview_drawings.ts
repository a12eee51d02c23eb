/** The drawings of the preview, in its order; those whose sizes are not known yet are left out. */
import type { Door } from '../model/index.ts'
import { balanceChart } from './drawings/chart.ts'
import { elevation } from './drawings/elevation.ts'
import { section } from './drawings/section.ts'
import type { Html } from './html.ts'

export interface PreviewDrawing {
  readonly id: string
  readonly title: string
  readonly drawing: Html
}

export function drawingsOf(door: Door): PreviewDrawing[] {
  const all: readonly (readonly [id: string, title: string, drawing: Html | undefined])[] = [
    ['balance', 'Balance over the travel', balanceChart(door)],
    ['elevation', 'Seen from the coil side', elevation(door, 'preview-elevation')?.drawing],
    ['section', 'Section through the coil', section(door, 'preview-section')?.drawing],
  ]
  return all.flatMap(([id, title, drawing]) => (drawing ? [{ id, title, drawing }] : []))
}
