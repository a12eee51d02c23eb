/** The drawings of the preview, in its order. */
import type { Door } from '../model/index.ts'
import type { Html } from './html.ts'

export interface PreviewDrawing {
  readonly id: string
  readonly title: string
  readonly drawing: Html
}

export const drawingsOf = (_door: Door): PreviewDrawing[] => []
