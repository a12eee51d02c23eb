/**
 * The cautions that go with whatever can hurt someone, in plain words. The short one ends a message; the long ones are
 * printed on sheets, in hovers and in the rule pages.
 */
import type { Caution } from './spec.ts'

export interface CautionText {
  /** What it is about: a heading. */
  readonly title: string
  /** One or two sentences, for the end of a message. */
  readonly short: string
  /** Everything to be observed, one sentence each, in the order of the work. */
  readonly long: readonly string[]
}

export const CAUTIONS: Readonly<Record<Caution | 'welding', CautionText>> = {
  spring: {
    title: 'Wound springs can maim or kill',
    short:
      'Trained door technicians only: wind or release with the door fully open and secured, with two proper winding bars, out of line with them.',
    long: [
      'A wound spring can maim or kill: trained door technicians only.',
      'Wind or release the springs only with the door fully open and secured.',
      'Use only proper winding bars, two of them, and stand out of line with them.',
      'Pin the wheel before a bar is let go.',
      'Count the increments and write them down.',
      'Winding in the wrong direction can destroy the door.',
      'Never lower an untensioned door.',
    ],
  },
  curtain: {
    title: 'A hung or slung curtain can maim or kill',
    short: 'Trained door technicians only: keep out from under a hung or slung curtain, and rope off the work area.',
    long: [
      'A hung or slung curtain can maim or kill: trained door technicians only.',
      'Keep out from under a slung curtain.',
      'Rope off the work area.',
      'Never lower an untensioned door.',
    ],
  },
  anchor: {
    title: 'Anchors hold the door up',
    short:
      'An anchor that lets go drops the door on whoever stands below: a qualified engineer decides on anchors and what they are set in.',
    long: [
      'Rails and brackets hang on their anchors; one that lets go drops the door on whoever stands below.',
      'A qualified engineer decides on anchors, on what they are set in and on wind loads; these numbers assist and do not replace that.',
      'Rope off the work area while rails and brackets are fixed.',
    ],
  },
  power: {
    title: 'Power can kill, and can start the door',
    short: 'Isolate the power before wiring or working on the drive, and leave it to those who are licensed for it.',
    long: [
      'Isolate the power, and lock it off, before wiring or working on the drive or the chain.',
      'Wiring is for those who are licensed for it.',
      'Keep clear of the opening, the chain and the drum when the power comes back.',
    ],
  },
  welding: {
    title: 'Welding',
    short: 'Welding is for qualified welders, and never near a wound spring or a slung curtain.',
    long: [
      'Welding is for qualified welders, with the power isolated and the work area roped off.',
      'Never weld on or near a wound spring, or on what a slung curtain hangs from.',
    ],
  },
}

/** What the numbers are worth: stands on every sheet. */
export const ASSISTS =
  "These numbers assist; they do not replace a qualified engineer, the door's own documents, local codes and licensed practice."

/** What is left to others: stands on every sheet. */
export const LISTED =
  'Fire doors, and anything that must carry a listing or a seal, are outside what is decided here: follow their listing and documents.'

/** Ends a message with the short caution. */
export const withCaution = (message: string, caution: keyof typeof CAUTIONS): string =>
  `${message} ${CAUTIONS[caution].short}`
