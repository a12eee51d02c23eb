/** A job of the Harbour Street cold store on its way through all stages, and ways to change it. */
import { Service, type ServiceHost } from '../../../server/service.ts'

export const FILE = '/jobs/dock.door'

export const JOB = `job "HS-2290" {
  site     = "Harbour Street cold store"
  customer = "Harbour Street Cold Storage"
  drawn_by = "A. Writer"
  revision = "C"
  date     = "2026-03-09"
  units    = imperial
}

slat flat_20 {
  pitch     = 2 5/8in
  thickness = 0.875in
  gauge     = 20
  developed = 3 3/4in
  material  = galvanized
}

## Rear dock, daily traffic
opening "Dock 7" {
  width           = 12ft
  height          = 11ft 6in
  headroom        = 22in
  side_room_left  = 18in
  side_room_right = 12in
  cycles          = 20/day

  curtain {
    slat       = flat_20
    engagement = 2 3/4in
    bottom_bar = 3 lb/ft
  }
  rails {
    between          = width + 1in
    depth            = 3 1/4in
    fastener_spacing = 24in
  }
  drum {
    pipe       = nps6_std
    span       = 12ft 8in
    shaft      = 1 1/4in
    drop_guard = true
  }
  spring long {
    wire     = 1/2in
    diameter = 4.9in
    coils    = 160
    hand     = right
  }
  spring short {
    wire     = 0.4063in
    diameter = 4.9in
    coils    = 140
    hand     = right
  }
  adjuster {
    side    = right
    holes   = 8
    preload = 1 3/4 turns
  }
  operator {
    drive          = hand_chain
    ratio          = 11.3
    hand_wheel     = 12in
    sprocket_drive = 17
    sprocket_drum  = 48
    chain          = ansi_50
    centers        = 16.42in
    holds          = true
  }
  rigging {
    sling_capacity = 1600 lbf
    sling_angle    = 60deg
  }
  survey {
    by   = "R. Field"
    date = "2026-03-02"
    width { bottom = 12ft; middle = 12ft 1/16in; top = 11ft 11in }
    diagonal { rising = 16ft 7 3/8in; falling = 16ft 7 1/4in }
    plumb { left = 1/8in }
  }
  delivery {
    rails    = 2
    brackets = 1
    drum     = true
    curtain  = false
    damage   = "bottom bar bent"
  }
}
`

const host: ServiceHost = {
  resolve: () => ({ ok: false, outside: false, message: 'no other file' }),
  read: () => undefined,
  fault: (where, error) => {
    throw new Error(where, { cause: error })
  },
}

export function serviceWith(text: string): Service {
  const service = new Service(host)
  service.open(FILE, text)
  return service
}

export const sheetOf = (text: string): string => serviceWith(text).sheet(FILE, '9.9.9')

/** The job with some of its text replaced; throws where that text is not in it. */
export function changed(...pairs: readonly (readonly [from: string, to: string])[]): string {
  let text = JOB
  for (const [from, to] of pairs) {
    if (!text.includes(from)) throw new Error(`not in the job: ${from}`)
    text = text.replace(from, () => to)
  }
  return text
}

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" }

/** What a reader sees of it, with single spaces. */
export const readable = (markup: string): string =>
  markup
    .replace(/<style>[\s\S]*?<\/style>/g, '')
    .replace(/<[^>]*>/g, ' ')
    .replace(/&(amp|lt|gt|quot|#39);/g, (_, e: string) => ENTITIES[e]!)
    .replace(/\s+/g, ' ')

/** One stage of the first opening. */
export function stageOf(sheet: string, number: number): string {
  const found = new RegExp(`<section class="stage stage-${number}">[\\s\\S]*?</section>`).exec(sheet)
  if (!found) throw new Error(`no stage ${number}`)
  return found[0]
}

/** The words of a table's row that starts with `name`. */
export function rowOf(markup: string, name: string): string[] {
  for (const [row] of markup.matchAll(/<tr>[\s\S]*?<\/tr>/g)) {
    const cells = [...row.matchAll(/<t[dh][^>]*>([\s\S]*?)<\/t[dh]>/g)].map(m => readable(m[1]!).trim())
    if (cells.some(c => c === name)) return cells
  }
  throw new Error(`no row ${name}`)
}
