import { block, date, field, text, words } from '../spec.ts'

export const job = block(
  'job',
  'The order that the openings of this file belong to, and the units that results are shown in.',
  {
    label: 'text',
    fields: [
      field('site', text(), { doc: 'Where the doors go.', example: '"Harbour Street cold store"' }),
      field('customer', text(), { doc: 'Who ordered them.', example: '"Harbour Street Cold Storage"' }),
      field('drawn_by', text(), { doc: 'Who wrote the job.', example: '"A. Writer"' }),
      field('revision', text(), { doc: 'The revision of the job.', example: '"B"' }),
      field('date', date(), { doc: 'The date of this revision.', example: '"2026-03-09"' }),
      field('units', words({ imperial: 'feet, inches, pounds', metric: 'millimetres, kilograms, newtons' }), {
        doc: 'The units that results are shown in. Every written quantity has its own unit, whatever this says.',
        example: 'metric',
        byDefault: { text: 'imperial', value: 'imperial' },
      }),
    ],
  },
)
